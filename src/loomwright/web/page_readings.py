"""Readings on a phone: joint by joint what a meter must show, and what the one that was typed means."""

from dataclasses import dataclass

from loomwright.documents.job import Job as JobRecord
from loomwright.network.results import Reading
from loomwright.papers.bench_page import joint_name
from loomwright.papers.blocks import ReadingField
from loomwright.papers.drawings import FaceDrawing
from loomwright.papers.job import Job
from loomwright.papers.judging import Judged, judge, typed_volts
from loomwright.papers.reading_fields import reading_field
from loomwright.papers.vehicle_page import plug_drawing
from loomwright.planning.installation import Joint
from loomwright.web.asking import Answer, Ask, Page, WebError
from loomwright.web.desk import Desk, Fit
from loomwright.web.page_vehicles import some_choice

__all__ = ["ReadingsPage", "readings_page", "show"]

_PURPOSES = {
    "identify": "Before joining, on the car's own wire", "after joining": "After joining, at the kit's free plug",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedReading:
    """One reading with what was typed for it: nothing, no number, or a value and what it means."""

    field: ReadingField
    typed: str
    is_number: bool
    judged: Judged | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingsPage:
    """One joint with its readings."""

    here: str
    car_name: str
    kit_name: str
    choice: tuple[tuple[str, str], ...]
    battery: str
    battery_ok: bool
    joints: tuple[tuple[str, str], ...]  # (id, name), those that have readings
    joint: str
    name: str
    number: int
    before: str
    after: str
    drawing: FaceDrawing | None
    groups: tuple[tuple[str, tuple[TypedReading, ...]], ...]
    serial: str


def show(desk: Desk, ask: Ask) -> Answer:
    """Show the readings of one joint."""
    vehicle = ask.path["vehicle"]
    choice = some_choice(desk.vehicle(vehicle), ask.under("car."))
    fit = desk.fit(vehicle, ask.path["kit"], choice)
    page = readings_page(desk, ask, fit, f"/fit/{vehicle}/{ask.path['kit']}/readings")
    return Page(template="readings.html", title=f"Readings: {page.name}", context=page)


def readings_page(desk: Desk, ask: Ask, fit: Fit, here: str, record: JobRecord | None = None) -> ReadingsPage:
    """Return one joint with its readings and what was typed."""
    battery = ask.one("battery", "12.6")
    battery_v = typed_volts(battery)
    is_battery = battery_v is not None and 11.0 <= battery_v <= 15.0
    table = desk.readings(fit, battery_v if is_battery and battery_v is not None else 12.6)
    if fit.job is None:
        raise WebError(409, "This kit must not be fitted to this car, so there is nothing to measure.")
    joints = [j for j in fit.job.ordered_joints if table.of(j.id)]
    wanted = ask.one("joint") or joints[0].id
    joint = next((j for j in joints if j.id == wanted), None)
    if joint is None:
        raise WebError(400, f"Found {wanted[:60]!r}, expected a joint with readings. Choose it on the page.")
    at = joints.index(joint)
    return ReadingsPage(
        here=here, car_name=fit.car.name, kit_name=fit.kit.name,
        choice=() if record else tuple((f"car.{axis}", value) for axis, value in fit.car.choice.items()),
        battery=battery, battery_ok=is_battery, joints=tuple((j.id, joint_name(j)) for j in joints),
        joint=joint.id, name=joint_name(joint), number=at + 1,
        before=joints[at - 1].id if at else "", after=joints[at + 1].id if at + 1 < len(joints) else "",
        drawing=_drawing(fit, joint),
        groups=tuple(
            (words, found)
            for purpose, words in _PURPOSES.items()
            if (found := _typed(ask, fit.job, joint, table.of(joint.id, purpose), table.battery_v))
        ),
        serial=record.id if record else "",
    )  # fmt: skip


def _drawing(fit: Fit, joint: Joint) -> FaceDrawing | None:
    if joint.pin is None:
        return None
    plug, _, pin = joint.pin.partition("/")
    return plug_drawing(fit.car, plug, pin)


def _typed(
    ask: Ask, job: Job, joint: Joint, found: tuple[Reading, ...], battery_v: float
) -> tuple[TypedReading, ...]:
    out = []
    for reading in found:
        field = reading_field(job, joint, reading, found)
        text = ask.one(f"r.{reading.id}")[:20]
        value = typed_volts(text)
        judged = None if value is None else judge(field, value, battery_v)
        out.append(TypedReading(field=field, typed=text, is_number=value is not None, judged=judged))
    return tuple(out)
