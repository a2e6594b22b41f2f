"""What a lock leg takes: its own motor, and that of a door whose other leg is a wire of its own."""

from loomwright.planning.loads import load_a
from tests.pairs import PAIRS, car_of


def test_a_leg_takes_every_motor_that_hangs_on_it() -> None:
    # By hand, from the document: 8 A of all doors between the two legs, 4 A of the driver's door on a leg of its own.
    car = car_of("quillen-marram")
    assert ("quillen-marram", "dunlin-7") in PAIRS
    assert load_a(car, car.circuits["lock-leg"]) == 12.0
    assert load_a(car, car.circuits["unlock-leg"]) == 8.0
    assert load_a(car, car.circuits["driver-leg"]) == 4.0
