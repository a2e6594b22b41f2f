"""Controller and car as one process in the language of spin, from the tables of the step function.

Each turn draws the car's truths and the timers, takes the controller's step by its decision diagrams, and asserts.
"""

from collections.abc import Iterator

from loomwright.starting.explore import searcher
from loomwright.starting.modes import ENGINE, MODES, ModeName
from loomwright.starting.settings import StartSettings
from loomwright.starting.tables import DOMAIN, ModeTable, Tables
from loomwright.starting.wiring import PHASE_OF, Wiring
from tests.starting.diagrams import Leaf, Node, diagram

__all__ = ["promela"]

_SPOKEN = ("hood_open", "brake_pressed", "in_park", "engine", "key_in", "valet")


def _name(variable: str) -> str:
    return "v_" + variable.replace(" ", "_")


def _nested(cases: list[tuple[str, str]], last: str) -> str:
    found = last
    for condition, value in reversed(cases):
        found = f"({condition} -> {value} : {found})"
    return found


def _expression(part: Leaf | Node, ask: dict[str, str]) -> str:
    if isinstance(part, Leaf):
        return str(part.value)
    cases = [(f"{ask[part.variable]} == {i}", _expression(b, ask)) for i, b in enumerate(part.branches)]
    return _nested(cases[:-1], cases[-1][1])


def _asked(name: ModeName, table: ModeTable, wires: Wiring) -> dict[str, str]:
    """What the controller takes each input of a mode for, as an expression of the truth."""
    out: dict[str, str] = {t: _name(t) for t in table.timers}
    for variable in table.inputs:
        levels = wires.sound.get(variable)
        domain = DOMAIN[variable]
        seen = [domain.index(levels[PHASE_OF[name]][t]) if levels else i for i, t in enumerate(domain)]
        cases = [(f"{_name(variable)} == {i}", str(v)) for i, v in enumerate(seen)]
        out[variable] = _nested(cases[:-1], cases[-1][1])
    return out


def _draw(table: ModeTable) -> Iterator[str]:
    """Draw what matters in a mode; everything else is at rest."""
    for variable, domain in DOMAIN.items():
        if variable in (*_SPOKEN, *table.inputs):
            choices = " ".join(f":: {_name(variable)} = {i}" for i in range(len(domain)))
            yield f"      if {choices} fi;"
    for timer in table.timers:
        yield f"      if :: {_name(timer)} = 0 :: {_name(timer)} = 1 fi;"


def _modes(tables: Tables, wires: Wiring, base: int) -> Iterator[str]:
    for at, name in enumerate(MODES):
        table = tables.modes[name]
        ask = _asked(name, table, wires)
        for attempts in range(base):
            yield f"    :: mode == {at * base + attempts} ->"
            yield from _draw(table)
            yield f"      after = {_expression(diagram(table, table.after[attempts]), ask)};"
            yield f"      vec = {_expression(diagram(table, table.vector[attempts]), ask)}"


def promela(one: StartSettings, wires: Wiring) -> str:
    """The whole model as text."""
    tables = searcher(one, wires).tables
    base, most = one.attempts + 1, one.attempts + 2
    timers = list(dict.fromkeys(t for m in tables.modes.values() for t in m.timers))

    def is_in(variable: str, *names: ModeName) -> str:
        return "(" + " || ".join(f"{variable} / {base} == {MODES.index(n)}" for n in names) + ")"

    free = "1" if not wires.interlocked else "0"
    cranking, running = ENGINE.index("cranking"), ENGINE.index("running")
    turned = f"({is_in('mode', 'cranking')} && (park == 0 || {free}))"
    by_key = f"(v_key_in == 1 && (v_in_park == 0 || {free}))"
    late = (
        f"(engine == {cranking} && cranks > 0 && {is_in('mode', 'cranking', 'ignition on', 'waiting')}"
        f" && (v_engine == {cranking} || v_engine == {running}))"
    )
    slow = f"(engine <= {cranking} && ({turned} || {by_key} || v_engine == 0 || {late}))"
    fast = f"(engine >= {running} && (v_engine != {cranking} || {by_key}))"
    shift = "(park == 1 || v_in_park == 0 || v_brake_pressed == 1)"
    lock = "(key == 0 || v_in_park == 0 || v_key_in == 1)"
    begins = f"{is_in('after', 'cranking')} && !{is_in('mode', 'cranking')} && cranks < {most}"
    asked = " || ".join(f"vec == {i}" for i, v in enumerate(tables.vectors) if v & {"start", "second start"})
    starter = f"(({asked}) && (v_in_park == 0 || {free}))"
    kept = is_in("after", "ignition on", "waiting", "cranking", "running", "takeover")
    off = is_in("after", "idle", "stopping", "locked out", "valet")
    never = (
        f"{starter} && v_hood_open == 1",
        f"{starter} && v_in_park == 1",
        f"{starter} && v_brake_pressed == 1",
        f"{starter} && v_engine >= {running}",
        f"({asked}) && count > {one.attempts}",
        f"{is_in('mode', 'cranking')} && v_crank_limit == 1 && {is_in('after', 'cranking')}",
        f"{is_in('mode', 'running', 'takeover')} && v_run_time == 1 && {is_in('after', 'running', 'takeover')}",
        f"{kept} && v_in_park == 1 && v_key_in == 0 && v_engine >= {running}",
        f"{off} && vec != 0",
        "vec != 0 && (v_hood_open == 1 || v_brake_pressed == 1 || v_valet == 1)",
    )
    lines = [
        *(f"hidden byte {_name(v)};" for v in (*DOMAIN, *timers)),
        "byte mode, park, key, engine, cranks;",
        "hidden byte after, vec, count, fits;",
        "active proctype start() {",
        "  do",
        "  :: atomic {",
        "    if",
        *_modes(tables, wires, base),
        "    fi;",
        f"    fits = ({shift} && {lock} && ({slow} || {fast}));",
        "    if",
        "    :: fits == 1 ->",
        f"      count = ({begins} -> cranks + 1 : cranks);",
        *(f"      assert(!({condition}));" for condition in never),
        "      mode = after; park = v_in_park; key = v_key_in; engine = v_engine;",
        f"      cranks = ({is_in('after', 'idle', 'locked out', 'valet')} -> 0 : count)",
        "    :: else -> skip",
        "    fi }",
        "  od",
        "}",
    ]
    return "\n".join(lines) + "\n"
