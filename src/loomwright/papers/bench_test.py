"""The bench test for the builder: each protection tried on the bench before the kit goes out, alone and without a car.

Which tests there are, what must be at rest for each, and where a lead is clipped so that an input reads one thing or
the other, is computed from the wiring and the settings of this installation.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from loomwright.documents.shop import Shop
from loomwright.network.results import Proof, Readings
from loomwright.network.vehicle_side import BATTERY_V
from loomwright.papers.bench_outputs import outputs_tried
from loomwright.papers.blocks import Block, Bullets, Heading, Paper, Paragraph, Step, Table, Text
from loomwright.papers.cautioning import caution
from loomwright.papers.job import Job
from loomwright.papers.measures import volts
from loomwright.papers.programming import changed_settings, engine_learned
from loomwright.papers.quantity import Quantity
from loomwright.papers.refusal import refusal_answer
from loomwright.papers.ring_out import ring_out
from loomwright.papers.safety_tests import proving_words, title_of_test
from loomwright.papers.saying import joined, listed, say
from loomwright.papers.stepping import needs
from loomwright.papers.words.en import bench_test as words
from loomwright.papers.words.en import naming, tests
from loomwright.planning.installation import Installation
from loomwright.sentences import told
from loomwright.starting.bench import (
    BenchInput,
    EngineOnBench,
    bench_inputs,
    cranks_on_bench,
    engine_on_bench,
    on_bench,
)
from loomwright.starting.modes import REST, Mode, changed
from loomwright.starting.settings import FIELD_OF, StartSettings, start_settings
from loomwright.starting.step import step
from loomwright.starting.trying import NeededTest, needed_tests
from loomwright.starting.wiring import wiring_of

__all__ = ["bench_test"]

_LIMIT_A = 5.0  # lamps and relays of one kit take less: common practice [A]
_CHARGED_V = 14.2  # a charging car, common practice [V]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bench:
    """What all steps of one bench test look up."""

    job: Job
    settings: StartSettings
    inputs: Mapping[str, BenchInput]
    engine: EngineOnBench | None
    cranks: bool
    needed: tuple[NeededTest, ...]

    def labels(self, *phases: str) -> tuple[str, ...]:
        """Return the labels of the leads on which an output is on in some phase of a start."""
        on = frozenset().union(*(self.settings.vectors[p] for p in phases))
        found = (j.label for j in self.job.installation.joints if j.function in on and self._drives(j.terminal))
        return tuple(dict.fromkeys(found))

    def _drives(self, terminal: str) -> bool:
        return any(t.id == terminal and t.kind.endswith("output") for t in self.job.kit.controller.terminals)

    @property
    def starter(self) -> str:
        """The leads that are on while the starter turns and off when the engine runs."""
        running = self.labels("running")
        return listed((name for name in self.labels("cranking") if name not in running), naming.AND)

    @property
    def first(self) -> str:
        """The leads that are on before the starter turns; none where a button car is asked to crank by its button."""
        return listed(self.labels("ignition on"), naming.AND)

    @property
    def running(self) -> str:
        """The leads that are on while the engine runs."""
        return listed(self.labels("running"), naming.AND)

    @property
    def outputs(self) -> str:
        """All leads that a start drives."""
        return listed(self.labels("ignition on", "cranking", "running"), naming.AND)

    @property
    def lamps(self) -> str:
        """The leads by which the kit answers: those of the parking lamps."""
        joints = (j for j in self.job.installation.joints if j.function.startswith("parking light"))
        return listed(dict.fromkeys(j.label for j in joints), naming.AND)

    @property
    def dark_when_refused(self) -> str:
        """All leads that a start drives, but for those by which the kit answers."""
        lamps = {j.label for j in self.job.installation.joints if j.function.startswith("parking light")}
        return listed((x for x in self.labels("ignition on", "cranking", "running") if x not in lamps), naming.AND)

    def answered(self, needed: NeededTest) -> Text:
        """Return how the lamps answer the start that a test has refused; nothing where none hang on the kit."""
        reply = refusal_answer(self.settings, needed.test.sets)
        if not self.lamps or reply is None or needed.test.id == "lamp":
            return ()
        return say(words.ANSWER_SEE, lamps=self.lamps, reply=reply)

    def does_in_car(self, needed: NeededTest) -> bool:
        """Tell whether only the car shows what a test is to show."""
        return not self.cranks or on_bench(needed, self.inputs) is None

    def rest(self, needed: NeededTest) -> str:
        """Return where the leads are that would hide what a test is to show, were they otherwise."""
        found = [self.inputs[name] for name in needed.clear if name in self.inputs]
        return listed((told("{label} {clip}", label=i.joint.label, clip=words.CLIP[i.rest]) for i in found), naming.AND)


def bench_test(
    installation: Installation, proof: Proof, readings: Readings, shop: Shop, marks: Mapping[str, str]
) -> Paper:
    """Return the bench test of a kit for one car.

    Parameters
    ----------
    installation, proof, readings, shop
        What was planned, found and computed, and whom to call.
    marks
        What identifies this issue of the sheet; name -> text.
    """
    job = Job(installation=installation, proof=proof, readings=readings, shop=shop)
    settings = start_settings(installation)
    wiring = wiring_of(installation, settings)
    bench = _Bench(
        job=job, settings=settings, inputs=bench_inputs(installation, settings, wiring),
        engine=engine_on_bench(installation, settings), cranks=cranks_on_bench(installation, settings, wiring),
        needed=needed_tests(settings, wiring),
    )  # fmt: skip
    return Paper(
        id="bench-test", title=words.TITLE,
        subtitle=told(words.SUBTITLE, kit=job.kit.name, revision=job.kit.revision, car=job.car.name),
        language="en", marks=job.marks(marks), blocks=tuple(_blocks(bench)), footer=job.call_line,
    )  # fmt: skip


def _blocks(bench: _Bench) -> Iterator[Block]:
    job = bench.job
    limit = Quantity(value=_LIMIT_A, unit="A", trace="practice:limit of a bench supply", digits=0)
    yield caution(words.SUPPLY, volts=volts(BATTERY_V, "practice:a full battery"), limit=limit)
    yield caution(words.LAMPS)
    yield Paragraph(text=say(words.INTRO_PART if any(map(bench.does_in_car, bench.needed)) else words.INTRO))
    yield from ring_out(job)
    yield Heading(text=words.HEAD_CLIPS, level=1, anchor="clips")
    yield Table(head=words.CLIPS, rows=tuple(_clips(bench)), widths=(1.4, 1.6, 3.0))
    yield Heading(text=words.HEAD_TESTS, level=1, anchor="tests")
    yield from _set_first(bench)
    if bench.cranks:
        yield _start(bench)
        yield _limit(bench)
        yield from (_try(bench, n, i) for n in bench.needed if (i := on_bench(n, bench.inputs)) is not None)
    else:
        yield _refuses(bench)
    tried = tuple(dict.fromkeys(outputs_tried(job)))
    if tried:
        yield _step("outputs", words.OUTPUTS_TITLE, tried, say(words.OUTPUTS_SEE), say(words.IF_NOT_PLAIN))
    car = tuple(
        say(words.CAR, title=title_of_test(job, n.test.id), fault=n.shows[0].words)
        for n in bench.needed if bench.does_in_car(n)
    )  # fmt: skip
    if car:
        yield Heading(text=words.HEAD_CAR, level=1, anchor="in-the-car")
        yield Paragraph(text=say(words.CAR_INTRO))
        yield Bullets(items=car, ticked=True)
    yield Heading(text=tests.HEAD_PROVED, level=1, anchor="proved")
    yield Bullets(items=tuple(proving_words(job)))


def _set_first(bench: _Bench) -> Iterator[Paragraph]:
    """Yield which options the tests need otherwise than they came, and what is learned before them."""
    job = bench.job
    otherwise = [(s.name, c.value) for s, c, _ in changed_settings(job) if s.of == "controller"]
    if otherwise:
        told_of = listed((told(words.SET_ONE, name=name, value=value) for name, value in otherwise), naming.AND)
        learned = say(words.LEARN_FIRST) if engine_learned(job) else ()
        yield Paragraph(text=joined(say(words.SET_FIRST, changed=told_of), learned))


def _clips(bench: _Bench) -> Iterator[tuple[Text, ...]]:
    """Yield lead, function and clip of every lead that has a part in a start."""
    terminals = {t.id: t for t in bench.job.kit.controller.terminals}
    driven = frozenset().union(*bench.settings.vectors.values())
    by_joint = {i.joint.id: i for i in bench.inputs.values()}
    for joint in bench.job.ordered_joints:
        kind = terminals[joint.terminal].kind
        where: Text = ()
        if kind == "power in":
            where = say(words.POWER)
        elif kind == "ground":
            where = say(words.GROUND)
        elif joint.function in driven and kind.endswith("output"):
            where = say(words.LAMP_TO_PLUS if kind == "negative output" else words.LAMP_TO_GROUND)
        elif joint.id in by_joint:
            where = say(words.AT_REST, clip=words.CLIP[by_joint[joint.id].rest])
        elif bench.engine is not None and bench.engine.joint is joint:
            where = say(words.PULSES)
        if where:
            name = told(naming.LEAD, label=joint.label, colour=bench.job.lead_colour(joint))
            yield say("{name}", name=name), (joint.function,), where


def _step(name: str, title: str, do: tuple[Text, ...], see: Text, if_not: Text) -> Step:
    return Step(
        id=f"bench:{name}", title=title, kind="test", needs=needs("on", "any"), place=words.PLACE,
        access=(words.ACCESS,), do=do, see=see, if_not=if_not,
    )  # fmt: skip


def _start(bench: _Bench) -> Step:
    names = {"first": bench.first, "starter": bench.starter, "running": bench.running}
    job, engine = bench.job, bench.engine
    lines = words.START_DO if bench.first else (words.START_DO[0], words.START_DO_AT_ONCE)
    do = list(job.lines(lines, start=job.say(tests.START), **names))
    if engine is not None and engine.joint is not None and engine.hertz is not None:
        source = "document" if job.car.traits.idle_rpm is not None else "practice"
        trace = f"{source}:{job.car.vehicle}/traits/idle_rpm"
        hertz = Quantity(value=engine.hertz, unit="Hz", trace=trace, digits=0)
        do.append(job.say(words.START_PULSES, hertz=hertz, label=engine.joint.label, **names))
    else:
        charged = volts(_CHARGED_V, "practice:a charging car")
        do.append(job.say(words.START_SUPPLY, volts=charged, **names))
    return _step("start", words.START_TITLE, tuple(do), say(words.START_SEE, **names), say(words.IF_NOT_PLAIN))


def _limit(bench: _Bench) -> Step:
    """Return the test of the crank limit, or of the pulse where the car's computer cranks."""
    job, settings = bench.job, bench.settings
    values = dict(job.installation.settings)
    timer = "pulse" if settings.pulsed else "crank limit"
    setting = "crank-limit" if timer == "crank limit" and "crank-limit" in values else None
    source = f"document:{job.kit.id}/settings"
    trace = f"{source}/{setting}" if setting else source if settings.pulsed else "practice:crank limit"
    most = settings.times_s[timer]  # type: ignore[index]
    time = Quantity(value=most, unit="s", trace=trace, digits=0 if most.is_integer() else 1)
    given = f"{source}/attempts" if "attempts" in values else "practice:attempts"
    attempts = Quantity(value=float(settings.attempts), unit="", trace=given, digits=0)
    see = say(words.LIMIT_SEE, starter=bench.starter, time=time, attempts=attempts)
    return _step(
        "limit", words.LIMIT_TITLE, (job.say(words.LIMIT_DO, start=job.say(tests.START)),), see, say(words.IF_NOT_PLAIN)
    )


def _refuses(bench: _Bench) -> Step:
    heard = (
        r.function for r in bench.job.installation.routes
        if r.how == "bus" and FIELD_OF.get(r.function, "") in bench.settings.senses
    )  # fmt: skip
    names = {"heard": listed(dict.fromkeys(heard), naming.AND), "outputs": bench.dark_when_refused}
    reply = refusal_answer(bench.settings, {"hood_open": True})
    if bench.lamps and reply is not None:
        # The lamps answer: without it a kit that heard nothing would pass as well.
        see = say(words.REFUSE_SEE_ANSWER, lamps=bench.lamps, reply=reply, **names)
    else:
        see = say(words.REFUSE_SEE, **names)
    return _step("refuses", words.REFUSE_TITLE, (say(words.REFUSE_DO),), see, say(words.IF_NOT_PLAIN))


def _try(bench: _Bench, needed: NeededTest, given: BenchInput) -> Step:
    """Return one protection, tried at its own lead with all else at rest that would hide it."""
    label = given.joint.label
    rest = say(words.REST_DO, rest=bench.rest(needed))
    move = say(words.MOVE_DO, label=label, clip=words.CLIP[given.other])
    if needed.test.running:
        do = (rest, say(words.RUNNING_DO), move, say(words.AGAIN_DO))
        seen = words.GONE_SEE if _stops(bench.settings, needed) else words.RUNS_ON_SEE
    else:
        back = say(words.BACK_DO, label=label, clip=words.CLIP[given.rest])
        do = (rest, move, say(words.ASK_DO), back)
        seen = words.LAMP_SEE if needed.test.id == "lamp" else words.STILL_SEE
    see = joined(
        say(seen, outputs=bench.dark_when_refused, starter=bench.starter, first=bench.first), bench.answered(needed)
    )
    title = title_of_test(bench.job, needed.test.id)
    return _step(needed.test.id, title, do, see, say(words.IF_NOT, label=label))


def _stops(settings: StartSettings, needed: NeededTest) -> bool:
    """Tell whether a running engine is stopped by what a test does."""
    seen = changed(REST, {"engine": "running", **needed.test.sets})
    after = step(Mode(name="running", attempts=1), seen, frozenset(), settings)
    return after.mode.name == "stopping"
