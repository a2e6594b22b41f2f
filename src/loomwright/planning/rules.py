"""What may stand together in one plan, as rows of sums: every row says that a sum must not pass a limit.

The rows are what the program solves, what a chosen plan is checked against afterwards, and where the words come from
when an alternative does not go together with the rest. Variables are the ids of candidates (1: chosen) and three
kinds of helpers that follow from them: an opened place, a branch in a plug, a value of a setting.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from loomwright.planning.candidates import Candidate, Power, Situation, Task, pin_words
from loomwright.planning.loads import BRIEF
from loomwright.planning.minutes import PLUG_IN_MINUTES
from loomwright.sentences import told

__all__ = ["Row", "broken_row", "helper_minutes", "helpers_of", "rows_of"]

_SLACK = 1e-9  # sums of currents are floats; a nanoampere decides nothing


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Sum of coefficient times variable <= limit; `fact` says what is wrong where it is more, `cure` what helps."""

    terms: Mapping[str, float]
    limit: float
    fact: str
    cure: str
    far: int = 5

    def excess(self, values: Mapping[str, float]) -> float:
        """Return by how much the sum passes the limit."""
        return sum(k * values.get(name, 0.0) for name, k in self.terms.items()) - self.limit


def _own_helpers(candidate: Candidate) -> tuple[str, ...]:
    """Return the helper variables that must be 1 where the candidate is chosen."""
    return (
        *(f"place:{place}" for place in candidate.places),
        *(f"plugged:{branch}@{plug}" for branch, plug in candidate.branches),
        *((f"set:{candidate.setting[0]}={candidate.setting[1]}",) if candidate.setting else ()),
    )


def helpers_of(chosen: Sequence[Candidate]) -> tuple[str, ...]:
    """Return every helper variable that is 1 where exactly these candidates are chosen."""
    return tuple(dict.fromkeys(h for c in chosen for h in _own_helpers(c)))


def helper_minutes(at: Situation, helper: str) -> float:
    """Return the minutes of work that a helper costs once, however many candidates share it [min]."""
    kind, _, name = helper.partition(":")
    if kind == "place":
        return at.car.places[name].minutes
    return PLUG_IN_MINUTES if kind == "plugged" else 0.0


def broken_row(rows: Iterable[Row], chosen: Sequence[Candidate]) -> Row | None:
    """Return the row that a choice of candidates breaks and that is hardest to cure, or None where it is sound."""
    values = dict.fromkeys((*(c.id for c in chosen), *helpers_of(chosen)), 1.0)
    return max((row for row in rows if row.excess(values) > _SLACK), key=lambda row: row.far, default=None)


def _by_task(candidates: Iterable[Candidate]) -> dict[str, list[Candidate]]:
    groups: dict[str, list[Candidate]] = {}
    for candidate in candidates:
        groups.setdefault(candidate.task, []).append(candidate)
    return groups


def _sum(candidates: Iterable[Candidate], factor: float = 1.0) -> dict[str, float]:
    return {c.id: factor for c in candidates}


def rows_of(at: Situation, tasks: Sequence[Task], candidates: Sequence[Candidate]) -> tuple[Row, ...]:
    """Return every row for the candidates of a car and a kit."""
    return tuple(
        row
        for rows in (
            _one_way_each(candidates), _pins(at, candidates), _outputs(at, candidates), _ratings(at, candidates),
            _leads(candidates), _stock(at, candidates), _helpers(candidates), _branches(at, candidates),
            _settings(candidates), _needs(tasks, candidates), _power(at, candidates), _fuses(candidates),
            _meetings(candidates), _own_signals(tasks, candidates),
        )
        for row in rows
        if row.terms and not (row.limit >= 0 and all(k <= 0 for k in row.terms.values()))
    )  # fmt: skip


def _one_way_each(candidates: Sequence[Candidate]) -> Iterator[Row]:
    for task, group in _by_task(candidates).items():
        yield Row(
            terms=_sum(group),
            limit=1,
            fact=told("{task} is served already.", task=task),
            cure=told("{task} were not served already", task=task),
        )


def _pins(at: Situation, candidates: Sequence[Candidate]) -> Iterator[Row]:
    at_pin: dict[str, list[Candidate]] = {}
    for candidate in candidates:
        if candidate.pattern == "resistor":
            continue  # the steps of one wire share their pin
        for pin in {e.pin for e in candidate.ends if e.pin is not None}:
            at_pin.setdefault(pin, []).append(candidate)
    for pin, group in at_pin.items():
        if len(_by_task(group)) > 1:
            words = pin_words(at.car, pin)
            yield Row(
                terms=_sum(group), limit=1, fact=told("Another kit wire is joined at {words} already.", words=words),
                cure="the wire could be reached at one more pin",
            )  # fmt: skip


def _on_terminal(candidates: Sequence[Candidate]) -> dict[str, list[Candidate]]:
    groups: dict[str, list[Candidate]] = {}
    for candidate in candidates:
        for terminal in {e.terminal for e in candidate.ends}:
            groups.setdefault(terminal, []).append(candidate)
    return groups


def _outputs(at: Situation, candidates: Sequence[Candidate]) -> Iterator[Row]:
    """Keep two circuits on one terminal apart.

    Diodes and relay coils keep them apart. A wire that is joined straight makes the output live whenever the vehicle
    does, and a relay coil beside it with it: that is sound only where the key makes the second circuit live then
    anyway. Lamps and triggers come on by other hands than the key's, so none of them is joined straight beside a coil.
    """
    for terminal, group in _on_terminal(candidates).items():
        tasks = _by_task(group)
        if len(tasks) < 2:
            continue
        words = at.terminal(terminal).function
        fact = told(
            "The kit's {words} terminal is used already, and two circuits must not be joined there.", words=words
        )
        cure = told("the kit had one more {words} terminal", words=words)
        straight = [c for c in group if c.isolation == "none"]
        yield Row(terms=_sum(straight), limit=1, fact=fact, cure=cure, far=4)
        for task, ways in tasks.items():
            kinds = dict.fromkeys((c.isolation, c.live) for c in ways if c.isolation != "none")
            for isolation, live in kinds:
                here = [c for c in ways if c.isolation == isolation and c.live == live]
                others = [c for c in straight if c.task != task]
                against = [c for c in others if isolation == "diode" or not c.live or not c.live <= live]
                if against:
                    yield Row(terms={**_sum(here), **_sum(against)}, limit=1, fact=fact, cure=cure, far=4)


def _ratings(at: Situation, candidates: Sequence[Candidate]) -> Iterator[Row]:
    for terminal, group in _on_terminal(candidates).items():
        if len(_by_task(group)) > 1 and any(c.share for c in group):
            words = at.terminal(terminal).function
            yield Row(
                terms={c.id: c.share for c in group}, limit=1,
                fact=told("The kit's {words} output would carry more than its rating allows.", words=words),
                cure=told("the kit's {words} output carried more", words=words), far=1,
            )  # fmt: skip


def _leads(candidates: Sequence[Candidate]) -> Iterator[Row]:
    """One loose lead, or one conductor of a branch, ends in one place."""
    groups: dict[str, list[Candidate]] = {}
    for candidate in candidates:
        for end in candidate.ends:
            groups.setdefault(f"{end.lead or end.branch}|{end.label}", []).append(candidate)
    for group in groups.values():
        tasks = _by_task(group)
        places = sorted({c.places for c in group})
        if len(tasks) < 2 or len(places) < 2:
            continue
        for (task, ways), place in product(tasks.items(), places):
            here = [c for c in ways if c.places == place]
            elsewhere = [c for c in group if c.task != task and c.places != place]
            if here and elsewhere:
                most = float(len(tasks) - 1)
                yield Row(
                    terms={**_sum(here, most), **_sum(elsewhere)}, limit=most,
                    fact="Its lead ends in another place already.", cure="the kit had one more lead for it", far=4,
                )  # fmt: skip


def _stock(at: Situation, candidates: Sequence[Candidate]) -> Iterator[Row]:
    for part in at.kit.parts:
        group = [c for c in candidates if c.part is not None and c.part.id == part.id]
        yield Row(
            terms=_sum(group), limit=part.stock,
            fact=told("The kit holds {stock} {part}, and no more.", stock=part.stock, part=part.name)
            if part.stock
            else told("The kit holds no {part}, and no more.", part=part.name),
            cure=told("the kit held one more {part}", part=part.name), far=0,
        )  # fmt: skip


def _helpers(candidates: Sequence[Candidate]) -> Iterator[Row]:
    """Say that a chosen candidate opens its places, plugs in its branch and sets its setting."""
    for group in _by_task(candidates).values():
        users_of: dict[str, list[Candidate]] = {}
        for candidate in group:
            for helper in dict.fromkeys(_own_helpers(candidate)):
                users_of.setdefault(helper, []).append(candidate)
        for helper, users in users_of.items():
            yield Row(terms={**_sum(users), helper: -1.0}, limit=0, fact="It is not opened.", cure="it were opened")


def _branches(at: Situation, candidates: Sequence[Candidate]) -> Iterator[Row]:
    pairs = sorted({pair for c in candidates for pair in c.branches})
    for branch in dict.fromkeys(b for b, _ in pairs):
        label = next(b.label for b in at.kit.branches if b.id == branch)
        plugs = [p for b, p in pairs if b == branch]
        if len(plugs) > 1:
            yield Row(
                terms={f"plugged:{branch}@{p}": 1.0 for p in plugs}, limit=1,
                fact=told("{label} sits in another plug already.", label=label), cure=told(
                    "the kit had a second {label}", label=label,
                ), far=4,
            )  # fmt: skip
    for plug in dict.fromkeys(p for _, p in pairs):
        branches = [b for b, p in pairs if p == plug]
        if len(branches) > 1:
            yield Row(
                terms={f"plugged:{b}@{plug}": 1.0 for b in branches}, limit=1,
                fact=told("Another branch of the kit sits in {name} already.", name=at.car.plugs[plug].name),
                cure="both were conductors of one branch", far=4,
            )  # fmt: skip


def _settings(candidates: Sequence[Candidate]) -> Iterator[Row]:
    values: dict[str, set[str]] = {}
    for candidate in candidates:
        if candidate.setting is not None:
            values.setdefault(candidate.setting[0], set()).add(candidate.setting[1])
    for setting, choices in values.items():
        if len(choices) > 1:
            yield Row(
                terms={f"set:{setting}={v}": 1.0 for v in sorted(choices)}, limit=1,
                fact="The setting stands at another choice already.", cure="the choice had a setting of its own", far=3,
            )  # fmt: skip


def _needs(tasks: Sequence[Task], candidates: Sequence[Candidate]) -> Iterator[Row]:
    by_task = _by_task(candidates)
    bus = by_task.get("bus", [])
    functions = {t.id: t.function for t in tasks}
    for group in by_task.values():
        over_bus = [c for c in group if c.needs_bus]
        if over_bus:
            yield Row(
                terms={**_sum(over_bus), **_sum(bus, -1.0)}, limit=0,
                fact="The vehicle module cannot be joined to the data bus.",
                cure="the vehicle module could be joined to the data bus",
            )  # fmt: skip
        for function in dict.fromkeys(c.needs for c in group if c.needs is not None):
            asking = [c for c in group if c.needs == function]
            wired = [c for c in candidates if functions[c.task] == function and c.how not in ("setting", "none")]
            yield Row(
                terms={**_sum(asking), **_sum(wired, -1.0)}, limit=0, fact=told(
                    "It needs {function}, which is not joined.", function=function,
                ),
                cure=told("{function} were wired", function=function), far=4,
            )  # fmt: skip


def _power(at: Situation, candidates: Sequence[Candidate]) -> Iterator[Row]:
    for terminal in (t.id for t in at.power_inputs):
        feeds = [c for c in candidates if c.fuse is not None and c.ends[0].terminal == terminal]
        for group in _by_task(candidates).values():
            users = [c for c in group if any(p.terminal == terminal for p in c.powers)]
            yield Row(
                terms={**_sum(users), **_sum(feeds, -1.0)}, limit=0,
                fact=told(
                    "The kit's power input {terminal}, which it takes its current from, has no feed.",
                    terminal=terminal,
                ),
                cure=told("the kit's power input {terminal} had a feed", terminal=terminal),
            )  # fmt: skip
        for what, amps, limits in _draws(candidates, feeds, terminal):
            if amps:
                yield Row(
                    terms={**amps, **limits}, limit=0,
                    fact=told(
                        "The fuse of the feed for {terminal} would not carry all that runs from it{what}.",
                        terminal=terminal, what=what,
                    ),
                    cure=told(
                        "a battery feed with a bigger fuse could be reached for {terminal}", terminal=terminal,
                    ), far=1,
                )  # fmt: skip


def _draws(
    candidates: Sequence[Candidate], feeds: Sequence[Candidate], terminal: str
) -> Iterator[tuple[str, dict[str, float], dict[str, float]]]:
    """Yield (when, what each candidate takes, what each feed gives) of a power input: running, cranking, switched on.

    One thing switched on at a time, as the proof tries them; what is held for seconds may use the whole fuse.
    """
    powers = {c.id: [p for p in c.powers if p.terminal == terminal] for c in candidates}
    powers = {name: taken for name, taken in powers.items() if taken}
    lasting = {c.id: -c.run_limit_a for c in feeds}
    brief = {c.id: -c.crank_limit_a for c in feeds}

    def sums(amps: Callable[[Power], float]) -> dict[str, float]:
        found = {name: sum(amps(p) for p in taken) for name, taken in powers.items()}
        return {name: a for name, a in found.items() if a > 0}

    yield " with the engine running", sums(lambda p: p.run_a), lasting
    yield " while cranking", sums(lambda p: p.crank_a), brief
    for stimulus in sorted({name for taken in powers.values() for p in taken for name, _ in p.switched}):
        amps = sums(lambda p, on=stimulus: p.run_a + dict(p.switched).get(on, 0.0))  # type: ignore[misc]
        yield told(" with {stimulus}", stimulus=stimulus), amps, brief if stimulus in BRIEF else lasting


def _fuses(candidates: Sequence[Candidate]) -> Iterator[Row]:
    """Two power inputs of the kit hang on two fuses and are never joined."""
    groups: dict[str, list[Candidate]] = {}
    for candidate in candidates:
        if candidate.fuse is not None:
            groups.setdefault(candidate.fuse, []).append(candidate)
    for group in groups.values():
        if len(_by_task(group)) > 1:
            yield Row(
                terms=_sum(group), limit=1, fact="Another power input of the kit hangs on its fuse already.",
                cure="the car had one more battery feed with a fuse of its own", far=6,
            )  # fmt: skip


def _meetings(candidates: Sequence[Candidate]) -> Iterator[Row]:
    """Two feeds of the car, each behind its own fuse, never meet on a wire.

    An output puts its power input's feed on a wire that the key or a switch feeds from another circuit: while the key
    takes the running engine over, both are on, and the two fuses would stand in parallel.
    """
    outputs = _by_task(c for c in candidates if c.meets is not None)
    for feeds in _by_task(c for c in candidates if c.fuse is not None).values():
        for ways in outputs.values():
            for circuit, (terminal, fed_by) in product(
                dict.fromkeys(f.ends[0].circuit for f in feeds), dict.fromkeys(w.meets for w in ways if w.meets)
            ):
                left = [f for f in feeds if f.ends[0].circuit == circuit and f.ends[0].terminal == terminal]
                right = [w for w in ways if w.meets == (terminal, fed_by)]
                if left and circuit != fed_by:
                    yield Row(
                        terms={**_sum(left), **_sum(right)}, limit=1,
                        fact="Two feeds of the car, each behind a fuse of its own, would be joined there.",
                        cure="the kit had one more power input for that feed of the car", far=4,
                    )  # fmt: skip


def _own_signals(tasks: Sequence[Task], candidates: Sequence[Candidate]) -> Iterator[Row]:
    """An input never reads a pin that the kit makes live itself with the very signal it listens for."""
    listening = frozenset(t.id for t in tasks if t.kind == "sense" and t.function == "brake")
    senses = [c for c in candidates if c.task in listening and c.ends]
    for ways in _by_task(c for c in candidates if c.reaches).values():
        for reaches in dict.fromkeys(c.reaches for c in ways):
            inside = [c for c in senses if c.ends[0].pin in reaches]
            yield Row(
                terms={**_sum(c for c in ways if c.reaches == reaches), **_sum(inside)} if inside else {}, limit=1,
                fact="The kit would take the voltage it gives itself there for a pressed pedal.",
                cure="the pedal's own side of the wire could be reached at one more pin",
            )  # fmt: skip
