"""Photographs: taken in as pictures only, without what a phone says of itself, shown, kept, handed to the guide."""

import io
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image
from starlette.testclient import TestClient

from loomwright.documents.evidence import Evidence
from loomwright.documents.kinds import MODELS
from loomwright.documents.reading import Source, read_document
from loomwright.store.store import Store
from loomwright.store.values import Attachment
from tests.web.conftest import CAR, FIT, token_of, vehicle_in

EDIT = "/vehicles/kestrin-fallow/edit"
WALK = "/vehicles/kestrin-fallow/walk"

# Source: CIPA DC-008 (Exif 2.32): IFD tag 0x8825 points to the GPS data, 0x0112 is the orientation, 0x010F the maker.
_GPS, _ORIENTATION, _MAKER = 0x8825, 0x0112, 0x010F


def _photo(width: int = 60, height: int = 40, *, colour: str = "red") -> bytes:
    """Return what a phone on its side would send: one corner white, its place and maker in the file."""
    image = Image.new("RGB", (width, height), colour)
    image.paste("white", (0, 0, width // 2, height // 2))
    exif = Image.Exif()
    exif[_ORIENTATION] = 6  # to be turned clockwise
    exif[_MAKER] = "SECRETPHONE"
    exif.get_ifd(_GPS)[1] = "N"
    exif.get_ifd(_GPS)[2] = (51.0, 30.0, 12.0)
    out = io.BytesIO()
    image.save(out, "JPEG", quality=95, exif=exif.tobytes())
    return out.getvalue()


def _send(client: TestClient, store: Store, data: bytes, **fields: str) -> object:
    base = str(store.latest("vehicle", "kestrin-fallow").number)
    sent = {"token": token_of(client, f"{EDIT}/plugs/1"), "base": base, "section": "plugs", "nth": "1", **fields}
    return client.post("/vehicles/kestrin-fallow/photo", data=sent, files={"photo": ("../IMG 1.jpg", data)})


def test_a_photograph_is_kept_upright_and_says_nothing_of_the_phone(own: tuple[TestClient, Store]) -> None:
    client, store = own
    assert b"SECRETPHONE" in _photo()
    found = _send(client, store, _photo(), shows="The plug <b>in place</b>.")
    assert found.headers["location"] == f"{EDIT}/plugs/1"  # type: ignore[attr-defined]
    photo = vehicle_in(store, "kestrin-fallow").plugs[0].photo
    assert photo is not None
    assert photo.file.startswith("ignition-")
    answer = client.get(f"/vehicles/kestrin-fallow/photos/{photo.file}")
    assert answer.headers["content-type"] == "image/jpeg"
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert b"SECRETPHONE" not in answer.content
    with Image.open(io.BytesIO(answer.content)) as picture:
        assert not picture.getexif()
        assert picture.size == (40, 60)
        corner = picture.convert("RGB").getpixel((35, 5))  # upper left has become upper right
        assert isinstance(corner, tuple)
        assert min(corner) > 200
    page = client.get(f"{EDIT}/plugs/1").text
    assert photo.file in page
    assert "<b>in place" not in page
    assert photo.file in client.get("/vehicles/kestrin-fallow").text


@pytest.mark.parametrize(
    "data",
    [b"", b"GIF89a....", b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>", _photo()[:200],
     b"\xff\xd8\xff\xe0" + b"<script>alert(1)</script>" * 9],
    ids=["nothing", "gif", "svg", "half", "disguise"],
)  # fmt: skip
def test_what_is_no_picture_is_refused(own: tuple[TestClient, Store], data: bytes) -> None:
    client, store = own
    found = _send(client, store, data)
    assert found.status_code in (400, 422)  # type: ignore[attr-defined]
    assert store.latest("vehicle", "kestrin-fallow").version == 1


def test_a_picture_of_too_many_dots_is_refused(own: tuple[TestClient, Store]) -> None:
    client, store = own
    out = io.BytesIO()
    Image.new("1", (12_000, 9_000)).save(out, "PNG")
    assert len(out.getvalue()) < 100_000
    found = _send(client, store, out.getvalue())
    assert found.status_code == 422  # type: ignore[attr-defined]
    assert "12000 by 9000 dots" in found.text  # type: ignore[attr-defined]


def test_a_change_of_the_entry_keeps_its_photograph_and_it_can_be_taken_away(own: tuple[TestClient, Store]) -> None:
    client, store = own
    for section, nth, back in (("places", "1", f"{EDIT}/places/1"), ("vehicle", "0", EDIT),
                               ("circuits", "3", "/vehicles/kestrin-fallow/circuits/ignition-1")):  # fmt: skip
        found = _send(client, store, _photo(colour="blue"), section=section, nth=nth)
        assert found.headers["location"] == back  # type: ignore[attr-defined]
    car = vehicle_in(store, "kestrin-fallow")
    assert car.photo is not None
    assert car.places[0].photo is not None
    assert car.circuits[2].photo is not None
    assert len(store.attachments(store.latest("vehicle", "kestrin-fallow"))) == 3
    circuit = client.get("/vehicles/kestrin-fallow/circuits/ignition-1").text
    assert car.circuits[2].photo.file in circuit
    gone = _send(client, store, b"", section="circuits", nth="3", take="away")
    assert gone.status_code == 303  # type: ignore[attr-defined]
    assert vehicle_in(store, "kestrin-fallow").circuits[2].photo is None
    # The version before still has it, and can be brought back.
    assert len(store.attachments(store.latest("vehicle", "kestrin-fallow"))) == 3


def test_a_photograph_stands_in_the_guide_that_is_made_here(own: tuple[TestClient, Store]) -> None:
    client, store = own
    before = client.get(f"{FIT}/guide.html?{CAR}").text
    assert _send(client, store, _photo(600, 400), shows="The plug in place.").status_code == 303  # type: ignore[attr-defined]
    after = client.get(f"{FIT}/guide.html?{CAR}").text
    assert "data:image/jpeg;base64," not in before
    assert "data:image/jpeg;base64," in after
    assert "The plug in place." in after


def test_a_picture_that_came_from_a_folder_below_its_document_is_shown(own: tuple[TestClient, Store]) -> None:
    client, store = own
    base = store.latest("vehicle", "kestrin-fallow")
    text = base.text.rstrip() + "\nphoto: {file: photos/car.jpg, shows: The car.}\n"
    picture = Attachment(name="photos/car.jpg", media_type="image/jpeg", data=_photo())
    store.save("vehicle", "kestrin-fallow", text, by=base.by, base=base, attach=[picture])
    address = "/vehicles/kestrin-fallow/photos/photos/car.jpg"
    assert f'src="{address}"' in client.get("/vehicles/kestrin-fallow").text
    shown = client.get(address)
    assert (shown.status_code, shown.headers["content-disposition"]) == (200, 'inline; filename="car.jpg"')


def test_the_walk_keeps_a_photograph_as_evidence(own: tuple[TestClient, Store]) -> None:
    client, store = own
    at = f"{WALK}?{CAR}&at=ignition/2"
    sent = {"token": token_of(client, at), "at": "ignition/2", "seen": "as drawn", "reading": "", "by": "bench"}
    sent |= dict(p.split("=") for p in CAR.split("&"))
    bad = client.post(WALK, data=sent | {"reading": "12.4 V"}, files={"photo": ("x.jpg", b"no picture")})
    assert bad.status_code == 422
    assert 'value="12.4 V"' in bad.text
    kept = client.post(WALK, data=sent, files={"photo": ("x.jpg", _photo())})
    assert kept.status_code == 303
    revision = store.latest("evidence", "kestrin-fallow-evidence")
    document = read_document(Source(file="e", text=revision.text), MODELS).document
    assert isinstance(document, Evidence)
    photo = document.records[-1].photo
    assert photo is not None
    assert photo.shows == "Pin 2, ignition-switch plug: pink."
    assert [one.name for one in store.attachments(revision)] == [photo.file]
    page = client.get(at).text
    assert photo.file in page
    assert photo.file in client.get("/vehicles/kestrin-fallow/circuits/ignition-1").text
    assert client.get(f"/vehicles/kestrin-fallow/photos/{photo.file}").status_code == 200


def test_export_import_and_backup_carry_photographs(
    own: tuple[TestClient, Store], make_store: Callable[[], Store], tmp_path: Path
) -> None:
    client, store = own
    assert _send(client, store, _photo()).status_code == 303  # type: ignore[attr-defined]
    wanted = [(a.name, store.bytes_of(a)) for a in store.attachments(store.latest("vehicle", "kestrin-fallow"))]
    assert len(wanted) == 1
    store.export_archive(tmp_path / "all.zip")
    store.backup(tmp_path / "backup")
    imported, restored = make_store(), make_store()
    by = imported.add_person("B").id
    imported.import_archive(tmp_path / "all.zip", by=by)
    restored.restore(tmp_path / "backup")
    for other in (imported, restored):
        revision = other.latest("vehicle", "kestrin-fallow")
        assert [(a.name, other.bytes_of(a)) for a in other.attachments(revision)] == wanted


def test_pictures_of_nothing(own: tuple[TestClient, Store]) -> None:
    client, store = own
    assert client.get("/vehicles/kestrin-fallow/photos/none.jpg").status_code == 404
    assert client.get("/vehicles/kestrin-fallow/photos/..%2Fx").status_code == 404
    assert client.get("/kits/rookery-4/photos/none.jpg").status_code == 404
    for fields in (
        {"section": "hazards"},
        {"section": "none"},
        {"nth": "99"},
        {"section": "circuits", "nth": "0"},
        {"nth": "x"},
    ):
        found = _send(client, store, _photo(), **fields)
        assert found.status_code in (400, 404), fields  # type: ignore[attr-defined]
    sent = {"token": token_of(client, f"{EDIT}/plugs/1"), "section": "controller", "nth": "1", "shows": "The box.",
            "base": str(store.latest("kit", "rookery-4").number)}  # fmt: skip
    assert client.post("/kits/rookery-4/photo", data=sent, files={"photo": ("b.jpg", _photo())}).status_code == 303
    assert (
        "photo: {file: " in store.latest("kit", "rookery-4").text or "photo:" in store.latest("kit", "rookery-4").text
    )
