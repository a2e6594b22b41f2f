"""The proof: the joined circuit solved in every state of every story, and every rule asked about it."""

from collections.abc import Iterable

from loomwright.network.expectations import Expectations, expectations_of
from loomwright.network.joining import joined_netlist
from loomwright.network.results import Finding, Proof
from loomwright.network.rules_current import (
    check_car_wires,
    check_feeds_apart,
    check_fuse_and_wire,
    check_ground,
    check_outcomes,
    check_ratings,
    check_standing,
)
from loomwright.network.rules_history import check_history
from loomwright.network.rules_joints import check_carried, check_joints, check_pins, check_settings
from loomwright.network.rules_live import check_drops, check_live
from loomwright.network.rules_pulse import check_start_pulse
from loomwright.network.rules_short import check_shorts
from loomwright.network.sensing import check_inputs
from loomwright.network.solving import Solved, solve_stories
from loomwright.network.standing_draw import DEFAULT_CAPACITY_AH, standing_draw
from loomwright.network.stories import stories_of
from loomwright.network.vehicle_defaults import DEFAULT_CCA_A, DEFAULT_STARTER_A
from loomwright.planning.installation import Installation
from loomwright.sentences import told

__all__ = ["ORDER", "prove", "prove_solved", "solved_installation"]

ORDER = {"stop": 0, "fix": 1, "note": 2}


def solved_installation(installation: Installation) -> Solved:
    """Return every state of every story of an installation, solved."""
    return solve_stories(joined_netlist(installation), stories_of(installation))


def prove(installation: Installation) -> Proof:
    """Solve the installation and return what the rules find, worst first.

    Raises SolveError only where a state neither settles nor chatters, which would be a fault of this program.
    """
    return prove_solved(installation, solved_installation(installation))


def prove_solved(installation: Installation, solved: Solved, expectations: Expectations | None = None) -> Proof:
    """Ask every rule about an installation that is already solved.

    What is solved may be a netlist that was built otherwise than the installation plans it; the plan is what counts.
    `expectations` are those of the installation, where they were asked before.
    """
    car, netlist = installation.car, solved.compiled.netlist
    expectations = expectations or expectations_of(car, installation)
    findings = _once(
        [
            *check_outcomes(solved),
            *check_live(car, expectations, solved),
            *check_inputs(installation, expectations, solved),
            *check_ratings(solved),
            *check_fuse_and_wire(solved),
            *check_car_wires(solved),
            *check_feeds_apart(car, solved),
            *check_drops(car, expectations, solved),
            *check_ground(installation, solved),
            *check_standing(solved),
            *check_history(solved),
            *check_shorts(installation, netlist),
            *check_start_pulse(installation),
            *check_joints(installation, netlist),
            *check_carried(installation, netlist),
            *check_settings(installation),
            *check_pins(installation),
            *_contradictions(installation),
        ]
    )
    return Proof(
        installation=installation,
        findings=tuple(sorted(findings, key=lambda f: (ORDER[f.severity], f.code, f.subject))),
        nodes=len(solved.compiled.netlist.nodes),
        elements=len(solved.compiled.netlist.elements),
        states=solved.states,
        points=solved.points,
        worst_residual=solved.residual,
        standing=standing_draw(
            solved,
            car.traits.battery_ah or DEFAULT_CAPACITY_AH,
            (car.traits.battery_cca_a or DEFAULT_CCA_A) * (car.traits.batteries or 1),
            car.traits.starter_a or DEFAULT_STARTER_A,
        ),
    )


def _once(findings: Iterable[Finding]) -> list[Finding]:
    """Keep one finding per code, subject and stage: the first of the worst; another state of it adds nothing."""
    kept: dict[tuple[str, str, str], Finding] = {}
    for f in findings:
        key = (f.code, f.subject, f.state.stage if f.state else "")
        if key not in kept or ORDER[f.severity] < ORDER[kept[key].severity]:
            kept[key] = f
    return list(kept.values())


def _contradictions(installation: Installation) -> list[Finding]:
    """Return a finding for each used circuit about which the evidence disagrees, and a note for each unproven one."""
    out: list[Finding] = []
    for joint in installation.joints:
        if joint.circuit is None:
            continue
        standing = installation.car.standing[joint.circuit]
        if standing.status == "proven":
            continue
        against = standing.status == "contradicted"
        out.append(
            Finding(
                code="evidence-contradicts" if against else "unproven",
                severity="fix" if against else "note",
                subject=joint.circuit,
                message=(
                    told("{function} in {pin}: {why}.", function=joint.function, pin=joint.pin, why=standing.why)
                    if against
                    else told(
                        "{function} in {pin} is unproven on this car: {why}.",
                        function=joint.function,
                        pin=joint.pin,
                        why=standing.why,
                    )
                ),
                state=None,
                path=(joint.id,),
                numbers=(),
                advice="Measure it on this variant and record the reading.",
                source="evidence records",
            )
        )
    return out
