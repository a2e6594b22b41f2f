"""The diagnostic connector of SAE J1962 as a check of faces: its pin positions are published for one side."""

from loomwright.documents.faces import FaceShape, count_to, lines, neighbours
from loomwright.documents.miscounts import mirrored

# Source: SAE J1962 / ISO 15031-3, type A connector, as shown in public pin-out pages: looking into the vehicle's
# female connector with the wide side up, 1 to 8 run left to right in the upper row and 9 to 16 in the lower.
TOP = tuple(str(pin) for pin in range(1, 9))
BOTTOM = tuple(str(pin) for pin in range(9, 17))
SOCKET = FaceShape(id="diagnostic-socket", rows=(TOP, BOTTOM))


def test_seen_into_the_vehicle_socket() -> None:
    assert lines(SOCKET, "mating") == (TOP, BOTTOM)
    # Source: SAE J1962: 4 chassis ground, 5 signal ground, 16 battery; 16 is the last of the lower row, below 8.
    assert neighbours(SOCKET, "16", "mating") == {"left": "15", "right": None, "above": "8", "below": None}
    count = count_to(SOCKET, "5", "mating")
    assert (count.line_from, count.place, count.place_from) == ("top", 4, "right")


def test_the_mating_plug_seen_from_its_face_is_mirrored() -> None:
    # Source: SAE J1962: the tester's connector mates face to face, so its face shows both rows from right to left.
    plug = FaceShape(id="tester-plug", rows=(TOP[::-1], BOTTOM[::-1]))
    assert lines(plug, "wire") == lines(SOCKET, "mating")
    assert lines(SOCKET, "wire") == lines(plug, "mating")


def test_reading_the_wrong_side_puts_can_high_and_battery_elsewhere() -> None:
    # Source: SAE J1962: CAN high 6, CAN low 14, battery 16, chassis ground 4. By symmetry 6 becomes 3 and 16 becomes 9.
    assert [mirrored(SOCKET, pin) for pin in ("6", "14", "16", "4")] == [("3",), ("11",), ("9",), ("5",)]
