"""The installation: one kit in one car, place by place, in any state, with why and why not."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from loomwright.network.results import verdict
from loomwright.papers.bench_page import BenchPage, JointView, bench_page
from loomwright.papers.bench_start import StartView, start_view
from loomwright.papers.blocks import Paper
from loomwright.papers.drawings import DashMap, DashSpot
from loomwright.papers.languages import LANGUAGES
from loomwright.papers.match_report import match_report
from loomwright.papers.saying import plain
from loomwright.papers.words.en import bench as bench_words
from loomwright.papers.words.en import sheets as words
from loomwright.planning.installation import Refusal
from loomwright.sheets.callouts import Callout, CalloutLine, draw_callouts
from loomwright.sheets.drawn import draw
from loomwright.sheets.svg import in_page
from loomwright.sheets.timeline import draw_timeline
from loomwright.starting.frames import StartStep, start_steps
from loomwright.starting.record import Rehearsal
from loomwright.starting.timeline import Mark, timeline_of, window_of
from loomwright.web.asking import Answer, Ask, Page, Redirect, address
from loomwright.web.desk import Desk, Fit, Line
from loomwright.web.page_vehicles import AxisPick, pick_axes, some_choice
from loomwright.web.state_asked import Asked, Picker, answered, asked_of, picker
from loomwright.web.working.kinds import KINDS, Kind

__all__ = ["choose", "show"]

_PHONE_MM = 90.0
_DESK_MM, _NARROW_MM = 260.0, 100.0  # of timelines
_MOST_S, _BEFORE_S = 45.0, 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoosePage:
    """Which vehicle and which kit."""

    vehicles: tuple[Line, ...]
    kits: tuple[Line, ...]
    vehicle: str
    kit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FitPage:
    """What every look at a kit in a car shows first."""

    vehicle: str
    kit: str
    car_name: str
    kit_name: str
    cues: tuple[tuple[str, str, str], ...]
    choice: tuple[tuple[str, str], ...]
    picks: tuple[AxisPick, ...]
    verdict: str
    fits: bool
    refusal: Paper | None
    bench: "BenchView | None"
    longer: tuple[tuple[str, Kind], ...]  # kinds of long work, by id
    languages: tuple[tuple[str, str], ...]  # (code, name) of what sheets can be in besides the shop's own language


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchView:
    """The installation in the state that was asked for."""

    shown: BenchPage
    picker: Picker
    wide: str
    narrow: str
    minutes: int
    states: int
    means: tuple[tuple[str, str, str], ...]  # (condition, its word, what it means)
    faulty: bool
    start: StartView | None
    timeline: tuple[str, str]  # wide and narrow


def choose(desk: Desk, ask: Ask) -> Answer:
    """Ask for vehicle and kit."""
    vehicle, kit = ask.one("vehicle"), ask.one("kit")
    if vehicle and kit:
        return Redirect(to=address(f"/fit/{desk.revision('vehicle', vehicle).id}/{desk.revision('kit', kit).id}"))
    page = ChoosePage(
        vehicles=desk.lines("vehicle", limit=500), kits=desk.lines("kit", limit=500), vehicle=vehicle, kit=kit
    )
    return Page(template="choose.html", title="Fit a kit", context=page)


def show(desk: Desk, ask: Ask) -> Answer:
    """Show a kit in a car."""
    vehicle, kit = ask.path["vehicle"], ask.path["kit"]
    family = desk.vehicle(vehicle)
    choice = some_choice(family, ask.under("car."))
    fit = desk.fit(vehicle, kit, choice)
    refused = isinstance(fit.found, Refusal)
    context = FitPage(
        vehicle=vehicle, kit=kit, car_name=fit.car.name, kit_name=f"{fit.kit.name}, revision {fit.kit.revision}",
        cues=fit.car.choice_words, choice=tuple((f"car.{axis}", value) for axis, value in choice.items()),
        picks=pick_axes(family, choice), verdict=verdict_words(fit), fits=not refused and is_sold(fit),
        refusal=match_report(fit.found, None) if isinstance(fit.found, Refusal) else None,
        bench=None if refused else _bench(desk, ask, fit), longer=tuple(KINDS.items()),
        languages=tuple((one.code, one.name) for one in LANGUAGES.values() if one.code != fit.shop.language),
    )  # fmt: skip
    return Page(template="fit.html", title=f"{fit.kit.name} in the {fit.car.name}", context=context)


def verdict_words(fit: Fit) -> str:
    """Return the verdict in two sentences."""
    if isinstance(fit.found, Refusal) or fit.proof is None:
        return "This kit must not be fitted to this car. Why, and what would change that, stands below."
    return words.VERDICT[verdict(fit.found, fit.proof.findings)]


def is_sold(fit: Fit) -> bool:
    """Tell whether there is anything to print for a buyer."""
    if isinstance(fit.found, Refusal) or fit.proof is None:
        return False
    return verdict(fit.found, fit.proof.findings) != "does-not-fit"


def _bench(desk: Desk, ask: Ask, fit: Fit) -> BenchView | None:
    if isinstance(fit.found, Refusal) or fit.job is None or fit.proof is None:
        return None
    bench, scenarios = desk.bench(fit), desk.scenarios(fit)
    asked = asked_of(ask, fit.found, bench, scenarios)
    start: StartView | None = None
    steps: tuple[StartStep, ...] = ()
    if asked.scenario:
        rehearsal = desk.rehearsal(fit, asked.scenario)
        every = start_steps(rehearsal)
        number = min(asked.step, len(every))
        start, steps = start_view(rehearsal, every, number), every[:number]
    shown = bench_page(fit.job, answered(desk, fit, asked, steps), asked.meter)
    boxes = _callouts(shown, asked)
    spots = DashMap(spots=tuple(box.spot for box in boxes))
    narrow = draw(spots, width_mm=_PHONE_MM, words="The footwell with the places of the work.")[0].svg
    return BenchView(
        shown=shown, picker=picker(fit.job, asked, scenarios),
        wide=in_page(draw_callouts(boxes, title=f"{shown.state}.")), narrow=in_page(narrow),
        minutes=round(fit.found.minutes), states=fit.proof.points,
        means=tuple((c, bench_words.CONDITION[c], m) for c, m in bench_words.CONDITION_MEANS.items()),
        faulty=bool(asked.opened or asked.shorted), start=start,
        timeline=("", "") if start is None else _timelines(rehearsal, every, number),
    )  # fmt: skip


def _timelines(rehearsal: Rehearsal, steps: Sequence[StartStep], number: int) -> tuple[str, str]:
    """Draw the start in time with the present step marked; of a long run the stretch around it."""
    now = steps[number - 1]
    marks = tuple(Mark(time_s=s.time_s, words="; ".join(s.words), number=n) for n, s in enumerate(steps, 1))
    whole = replace(timeline_of(rehearsal), marks=marks)
    if whole.to_s > _MOST_S:
        whole = window_of(whole, now.time_s - _BEFORE_S, now.time_s + _MOST_S - _BEFORE_S)
    whole = replace(whole, marks=tuple(m for m in whole.marks if m.time_s <= whole.to_s))
    wide, narrow = (
        in_page(draw_timeline(whole, width_mm=width, now=(now.time_s, now.until_s), told=False))
        for width in (_DESK_MM, _NARROW_MM)
    )
    return wide, narrow


def _callouts(shown: BenchPage, asked: Asked) -> tuple[Callout, ...]:
    return tuple(
        Callout(
            spot=DashSpot(id=place.id, name=place.name, x=place.x, y=place.y),
            lines=tuple(_line(joint, asked) for joint in place.joints),
        )
        for place in shown.places
        if place.number is not None
    )


def _line(joint: JointView, asked: Asked) -> CalloutLine:
    # What changed is shown, be it only at the kit's end.
    wire = joint.lead if joint.wire is None or (joint.lead.was and not joint.wire.was) else joint.wire
    ids = [w.id for w in (joint.lead, joint.wire) if w is not None]
    cut = _asked_word(ids, asked.opened, "open") or _asked_word(ids, asked.shorted, "short")
    return CalloutLine(
        label=joint.label, lead=(joint.lead.colour, joint.lead.stripe),
        wire=(joint.wire.colour, joint.wire.stripe) if joint.wire is not None and joint.wire.colour else None,
        condition=wire.condition, says=f"{wire.says} {plain(wire.volts)}",
        what=f"{joint.function}: {joint.where}", flag=joint.standing if joint.unproven else "",
        changed=wire.was is not None or joint.lead.was is not None, cut=cut,
    )  # fmt: skip


def _asked_word(ids: Sequence[str], asked: Sequence[str], word: str) -> str:
    return word if set(ids) & set(asked) else ""
