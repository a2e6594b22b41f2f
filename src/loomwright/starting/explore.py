"""Every order of events: breadth-first over mode, attempts and car, with the inputs as this installation reads them.

Timers run out whenever they like. The car is free to do anything but the impossible: a selector leaves park only with
the brake pedal pressed (brake-shift interlock, 49 CFR 571.114 S5.3); a key comes out of its lock in park only (S5.2);
and an engine starts to turn only by its starter, which the kit or a key turns, past the car's own interlock where it
has one (49 CFR 571.102 S3.1.3).
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from loomwright.network.stories import stories_of
from loomwright.planning.installation import Installation
from loomwright.sentences import linked, told
from loomwright.starting.modes import ENGINE, MODES, REST, ModeName, Timer, changed
from loomwright.starting.properties import PROPERTY_INPUTS, Moment, Property, properties_of
from loomwright.starting.settings import StartSettings, start_settings
from loomwright.starting.step import settled
from loomwright.starting.tables import DOMAIN, Tables, tabulate
from loomwright.starting.telling import Step, StoryStep, story_of
from loomwright.starting.wiring import PHASE_OF, InputFault, Levels, Wiring, wiring_of

__all__ = ["Exploration", "Held", "explore", "explore_settings", "searcher", "with_proof"]

_Int = npt.NDArray[np.int64]
_STILL, _CRANKING, _RUNNING, _OVER = range(len(ENGINE))


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A property and whether it holds; `story` is the shortest way to break it, empty where it holds."""

    id: str
    words: str
    source: str
    holds: bool
    story: tuple[StoryStep, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Exploration:
    """What a search found: properties, and how much there was to see."""

    properties: tuple[Held, ...]
    states: int
    transitions: int
    vectors: tuple[frozenset[str], ...]  # every command vector that can come about


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Grid:
    """All combinations of truths and expired timers that matter in a mode, fewest departures from rest first."""

    names: tuple[str, ...]
    timers: tuple[Timer, ...]
    value: Mapping[str, npt.NDArray[np.int8]]
    expired: Mapping[str, npt.NDArray[np.bool_]]


def _grid(tables: Tables, mode: ModeName, settings: StartSettings) -> _Grid:
    table = tables.modes[mode]
    spoken = [n for n in PROPERTY_INPUTS if n != "parking_brake" or n in settings.senses]
    spoken += _SPOKEN_IN.get(mode, ())
    names = tuple(n for n in DOMAIN if n in spoken or n in table.inputs)
    sizes = [len(DOMAIN[n]) for n in names] + [2] * len(table.timers)
    flat = np.indices(sizes, dtype=np.int8).reshape(len(sizes), -1)
    flat = flat[:, np.argsort((flat != 0).sum(axis=0), kind="stable")]
    return _Grid(
        names=names,
        timers=table.timers,
        value={n: np.ascontiguousarray(flat[i]) for i, n in enumerate(names)},
        expired={t: flat[len(names) + i] != 0 for i, t in enumerate(table.timers)},
    )


def _reading(name: str, levels: Levels | None, mode: ModeName, settings: StartSettings) -> npt.NDArray[np.int64]:
    """Return, for each truth of an input, the index of what the controller takes it for."""
    domain = DOMAIN[name]
    if levels is None:
        return np.arange(len(domain))
    here = levels[PHASE_OF[mode]]
    out = []
    for truth in domain:
        seen = settled(changed(REST, {name: here[truth]}), settings)
        out.append(domain.index(getattr(seen, name)))
    return np.array(out)


_SPOKEN_IN: Mapping[ModeName, tuple[str, ...]] = {"checking": ("battery_low",), "waiting": ("wait_lamp",)}
"""Truths that properties speak of in one mode only."""


class _Search:
    """One exploration, nominal or with a fault."""

    def __init__(
        self, settings: StartSettings, tables: Tables, wiring: Wiring, grids: Mapping[ModeName, _Grid]
    ) -> None:
        self.settings, self.tables, self.wiring, self.grids = settings, tables, wiring, grids
        self.base = settings.attempts + 1
        self.most = settings.attempts + 2  # cranks are counted up to one more than allowed
        commands = tables.vectors
        self.on = np.array([bool(v) for v in commands])
        asked = ("start", "second start") if settings.keyed else ("start button",)
        self.asked = np.array([any(a in v for a in asked) for v in commands])
        self.reached: tuple[int, ...] = ()
        self.ignition = np.array(["ignition" in v for v in commands])

    def code(self, mode: _Int, truth: Mapping[str, npt.NDArray[np.int8]], cranks: _Int) -> _Int:
        """Number a state: mode with attempts, selector, key, engine, cranks since the last request."""
        key = truth["key_in"] if self.settings.keyed else 0
        return np.asarray(
            (((mode * 2 + truth["in_park"]) * 2 + key) * len(ENGINE) + truth["engine"]) * (self.most + 1) + cranks
        )

    def split(self, state: int) -> tuple[int, int, int, int, int]:
        """Return mode code, park, key, engine and cranks of a state."""
        rest, cranks = divmod(state, self.most + 1)
        rest, engine = divmod(rest, len(ENGINE))
        rest, key = divmod(rest, 2)
        mode, park = divmod(rest, 2)
        return mode, park, key, engine, cranks

    def prepared(self, levels: Mapping[str, Levels]) -> dict[ModeName, _Int]:
        """Return per mode the place in its table of every combination of truths, as the inputs read them."""
        out: dict[ModeName, _Int] = {}
        for mode, grid in self.grids.items():
            table = self.tables.modes[mode]
            at = np.zeros(len(next(iter(grid.value.values()))), dtype=np.int64)
            for name, stride in zip((*table.inputs, *table.timers), table.strides, strict=True):
                if name in grid.value:
                    at += stride * _reading(name, levels.get(name), mode, self.settings)[grid.value[name]]
                else:
                    at += stride * grid.expired[name]
            out[mode] = at
        return out

    def allowed(self, mode: ModeName, park: int, key: int, engine: int, cranks: int) -> npt.NDArray[np.bool_]:
        """Tell which truths may follow: see the head of this module."""
        grid = self.grids[mode]
        value = grid.value
        ok = np.ones(len(value["engine"]), dtype=np.bool_)
        if park == 0:
            ok &= (value["in_park"] == 0) | (value["brake_pressed"] != 0)
        if key and self.settings.keyed:
            ok &= (value["in_park"] == 0) | (value["key_in"] != 0)
        turned = mode == "cranking" and (park == 0 or not self.wiring.interlocked)
        by_key = (value["key_in"] != 0) & ((value["in_park"] == 0) | (not self.wiring.interlocked))
        now = value["engine"]
        if engine in (_STILL, _CRANKING):
            free = by_key | turned
            # An engine that turns without its starter comes to rest; one that the kit has just cranked may coast on for
            # a moment, or catch late.
            late = engine == _CRANKING and cranks > 0 and mode in ("cranking", "ignition on", "waiting")
            ok &= free | (now == _STILL) | (late & ((now == _CRANKING) | (now == _RUNNING)))
        else:
            ok &= (now != _CRANKING) | by_key
        return ok

    def run(self, levels: Mapping[str, Levels], asked: tuple[Property, ...]) -> Exploration:
        """Search until nothing new turns up."""
        place = self.prepared(levels)
        start = 0  # idle, in park, no key, engine standing, nothing cranked
        parent: dict[int, tuple[int, int]] = {start: (-1, -1)}
        frontier = [start]
        broken: dict[str, tuple[int, int]] = {}
        used = np.zeros(len(self.tables.vectors), dtype=np.bool_)
        seen = np.zeros(len(MODES) * self.base * 2 * 2 * len(ENGINE) * (self.most + 1), dtype=np.bool_)
        seen[start] = True
        transitions = 0
        while frontier:
            found: list[int] = []
            for state in frontier:
                code, park, key, engine, cranks = self.split(state)
                name = MODES[code // self.base]
                ok = np.flatnonzero(self.allowed(name, park, key, engine, cranks))
                transitions += len(ok)
                new, moment, vector = self._moment(name, code % self.base, cranks, place[name], ok)
                used[vector] = True
                for prop in asked:
                    if prop.id not in broken:
                        bad = prop.broken(moment, self.settings)
                        if bad.any():
                            broken[prop.id] = (state, int(ok[int(np.argmax(bad))]))
                unseen = np.flatnonzero(~seen[new])
                fresh, first = np.unique(new[unseen], return_index=True)
                seen[fresh] = True
                for value, at in zip(fresh.tolist(), ok[unseen[first]].tolist(), strict=True):
                    parent[value] = (state, at)
                    found.append(value)
            frontier = found
        self.reached = tuple(parent)
        held = tuple(
            Held(
                id=p.id, words=p.words, source=p.source, holds=p.id not in broken,
                story=self._story(broken[p.id], parent) if p.id in broken else (),
            )
            for p in asked
        )  # fmt: skip
        return Exploration(
            properties=held, states=len(parent), transitions=transitions,
            vectors=tuple(self.tables.vectors[v] for v in np.flatnonzero(used).tolist()),
        )  # fmt: skip

    def _moment(
        self, name: ModeName, attempts: int, cranks: int, place: _Int, ok: npt.NDArray[np.intp]
    ) -> tuple[_Int, Moment, _Int]:
        table, grid = self.tables.modes[name], self.grids[name]
        at = place[ok]
        after, vector = table.after[attempts][at], table.vector[attempts][at]
        mode = after // self.base
        truth = {n: v[ok] for n, v in grid.value.items()}
        asked = self.asked[vector]
        on = self.on[vector]
        if not self.settings.keyed:
            # The press that stops a button car is no start and belongs to the stop.
            press = mode == MODES.index("stopping")
            asked = asked & ~press
            on = on & ~(press & (truth["engine"] >= _RUNNING))
        begins = (mode == MODES.index("cranking")) & (name != "cranking")
        count = np.minimum(cranks + begins, self.most)
        park = truth["in_park"]
        moment = Moment(
            mode=name, truth=truth, expired={t: e[ok] for t, e in grid.expired.items()}, after=mode, on=on, asked=asked,
            starter=asked & ((park == 0) | (not self.wiring.interlocked)), ignition=self.ignition[vector], cranks=count,
        )  # fmt: skip
        count = np.where(moment.goes("idle", "locked out", "valet"), 0, count)
        return self.code(after, truth, count), moment, vector

    def _story(self, end: tuple[int, int], parent: Mapping[int, tuple[int, int]]) -> tuple[StoryStep, ...]:
        way = [end]
        while parent[way[-1][0]][0] >= 0:
            way.append(parent[way[-1][0]])
        steps: list[Step] = []
        for state, combo in reversed(way):
            code = self.split(state)[0]
            name = MODES[code // self.base]
            grid = self.grids[name]
            truth = {n: DOMAIN[n][int(v[combo])] for n, v in grid.value.items()}
            expired: tuple[Timer, ...] = tuple(t for t in grid.timers if grid.expired[t][combo])
            one: Step = (name, code % self.base, truth, expired)
            steps.append(one)
        return story_of(steps, self._levels, self.settings)

    _levels: Mapping[str, Levels] = {}

    def explored(self, fault: InputFault | None, asked: tuple[Property, ...]) -> Exploration:
        """Search with the sound wiring, or with one fault of it."""
        levels = dict(self.wiring.sound)
        if fault is not None:
            levels[fault.input] = fault.levels
        self._levels = levels
        return self.run(levels, asked)


def explore_settings(settings: StartSettings, wiring: Wiring, fault: InputFault | None = None) -> Exploration:
    """Explore a controller set like this with inputs wired like this, sound or with one fault."""
    return searcher(settings, wiring).explored(fault, properties_of(settings))


def searcher(settings: StartSettings, wiring: Wiring) -> _Search:
    """Return a search that can be run again for each fault."""
    tables = tabulate(settings)
    grids = {name: _grid(tables, name, settings) for name in MODES}
    return _Search(settings, tables, wiring, grids)


def explore(installation: Installation) -> Exploration:
    """Explore the start of an installation with its real input wiring; see the head of this module.

    Raises SolveError only where the network does not settle, which would be a fault of this program.
    """
    settings = start_settings(installation)
    found = explore_settings(settings, wiring_of(installation, settings))
    return with_proof(found, installation)


def with_proof(found: Exploration, installation: Installation) -> Exploration:
    """Return the exploration with one more property: the network's proof has solved every vector that comes about."""
    proved = {s.commands for story in stories_of(installation) for s in story.states if s.stage == "fitted"}
    missing = [v for v in found.vectors if v not in proved]
    words = "The proof of the network has solved every set of outputs that can be on together."
    story = tuple(
        StoryStep(
            number=n,
            words=told("On together, and not proved: {outputs}.", outputs=linked(sorted(v), ", ")),
            mode="",
            outputs=tuple(sorted(v)),
        )
        for n, v in enumerate(missing, 1)
    )
    extra = Held(id="vectors-proved", words=words, source="the command table", holds=not missing, story=story)
    return Exploration(
        properties=(*found.properties, extra), states=found.states, transitions=found.transitions, vectors=found.vectors
    )
