"""A made-up paper that holds every kind of block, for the tests of the sheets. Car, kit and readings are invented."""

from collections.abc import Callable

from loomwright.documents.faces import FaceShape
from loomwright.papers.blocks import (
    Block,
    Bullets,
    Caution,
    Face,
    Heading,
    Paper,
    Paragraph,
    Picture,
    Quantity,
    ReadingField,
    Step,
    StepNeeds,
    Table,
    Verdict,
)
from loomwright.papers.drawings import DashMap, DashSpot, FaceDrawing, WiringPart, WiringPlan, WiringRow

__all__ = ["NASTY", "long_guide", "nasty", "plan_rows", "sample", "spots"]

# Everything that could break a page: markup of both typesetters, quotes, a very long word, right-to-left text,
# marks that turn text around, control characters, a lone surrogate, a character no built-in font has.
NASTY = (
    "<script>alert(1)</script> </style> & \" ' #pagebreak() $x^2$ @ref *b* _i_ `c` \\ \\u{1f} [x] {y} <l> // /* ]]> -->"
    " שלום عربي \u202etxet\u202c \x00\x07\ud800\ufffe 漢字 " + "Kabelbaumverlegungshinweis" * 12
)


def volts(value: float, digits: int = 1) -> Quantity:
    return Quantity(value=value, unit="V", trace=f"reading:sample/{value:g}", digits=digits)


def shape_of(plug: str) -> FaceShape:
    if plug == "ignition":
        return FaceShape(id="ignition", rows=(("1", "2", "3"), ("4", "5", "6")), large=frozenset({"1", "3"}))
    rows = (tuple(str(n) for n in range(1, 11)), tuple(str(n) for n in range(11, 21)))
    return FaceShape(id="body", rows=rows, latch="top", drawn_from="mating")


_COLOURS: dict[str, dict[str, tuple[str, str | None] | None]] = {
    "ignition": {
        "1": ("red", None),
        "2": ("yellow", None),
        "3": ("red", "white"),
        "4": ("pink", "black"),
        "5": None,
        "6": ("brown", None),
    },
    "body": {
        "1": ("yellow", None), "2": ("yellow", "black"), "3": ("brown", "white"), "4": ("green", None), "5": None,
        "6": ("light blue", None), "7": ("grey", "red"), "8": ("violet", None), "9": ("tan", None),
        "10": ("black", None), "11": ("white", None), "12": ("orange", "blue"),
        "13": ("red", None), "14": None, "15": None,
        "16": ("dark green", None), "17": ("light green", "red"), "18": ("white", "violet"), "19": ("blue", None),
        "20": ("black", "yellow"),
    },
}  # fmt: skip


def face(plug: str, target: str, avoid: tuple[str, ...], text: Callable[[str], str]) -> Face:
    return Face(
        plug=plug,
        title=text("Body module plug A" if plug == "body" else "Ignition switch plug"),
        drawing=FaceDrawing(
            shape=shape_of(plug),
            occupants=_COLOURS[plug],
            side="wire",
            turn=0,
            target=target,
            avoid=avoid,
        ),
        words=text(f"The plug from the wire side, latch up; pin {target} is marked."),
        words_turned=text(f"The same plug from the open end; pin {target} is marked."),
    )


def spots() -> tuple[DashSpot, ...]:
    return (
        DashSpot(id="kick", name="Left kick panel", x=9, y=75),
        DashSpot(id="column", name="Ignition switch plug", x=37, y=46),
        DashSpot(id="module", name="Body module", x=24, y=55),
        DashSpot(id="brake", name="Brake switch", x=37, y=66),
        DashSpot(id="socket", name="Diagnostic socket", x=25, y=60),
        DashSpot(id="ground", name="Ground bolt", x=6, y=62),
    )


def plan_rows() -> tuple[WiringRow, ...]:
    """One row for each way a kit can meet a car, and for each kind of part."""
    size = Quantity(value=0.8, unit="mm²", trace="size:sample", digits=1)
    switch, module = "Ignition switch plug, behind the column shroud", "Body module plug A, left of the column"
    fed: dict[str, str] = {"feed": "H1/2", "feed_label": "FEED 2", "feed_fuse": "Fuse 10 A"}
    return (
        WiringRow(
            task="Ignition", din="15", joint="T tapped", where=switch, kit_pin="H1/3", terminal="ignition output",
            label="IGN 1", lead_colour="pink", size=size, branch="KEY", wire_colour="pink", wire_stripe="black",
            plug="Ignition switch plug", pin="4", function="ignition, feeds the engine computer",
        ),
        WiringRow(
            task="Starter", din="50", joint="T interrupted", where=switch, kit_pin="H1/5", terminal="start output",
            label="START IN", lead_colour="violet", size=size, branch="KEY", factory_side="harness side",
            part=WiringPart(pattern="diode cuts in", name="Diode D1", positive=True),
            wire_colour="yellow", plug="Ignition switch plug", pin="2", function="start request",
        ),
        WiringRow(
            task="Starter", din="50", joint="T interrupted", where=switch, kit_pin="H1/6", terminal="start output",
            label="START OUT", lead_colour="violet", lead_stripe="white", size=size, branch="KEY",
            factory_side="plug side", wire_colour="yellow", plug="Ignition switch plug", pin="2",
            function="start request", unproven=True,
        ),
        WiringRow(
            task="Parking lights", din="58", joint="tap", where=module, kit_pin="H3/2",
            terminal="light output, negative", label="PARK (-)", lead_colour="white", lead_stripe="blue", size=size,
            fuse="Fuse 3 A", part=WiringPart(pattern="relay inverts", name="Relay K2", positive=False, **fed),
            wire_colour="brown", wire_stripe="white", plug="Body module plug A", pin="3", function="parking lights",
            note="Both parking-light circuits hang on this wire.",
        ),
        WiringRow(
            task="Lock", joint="tap", where=module, kit_pin="H2/1", terminal="lock", label="LOCK", lead_colour="green",
            part=WiringPart(pattern="resistor", name="Resistor R1", positive=False),
            wire_colour="light blue", plug="Body module plug A", pin="6", function="lock, stepped",
        ),
        WiringRow(
            task="Horn", din="71", joint="tap", where=module, kit_pin="H2/7", label="HORN", lead_colour="brown",
            lead_stripe="black", part=WiringPart(pattern="relay boosts", name="Relay K4", positive=True, ground="H1/1",
                                                 **fed),
            wire_colour="dark green", plug="Body module plug A", pin="16", function="horn",
        ),
        WiringRow(
            task="Alarm", joint="tap", where=module, kit_pin="H2/5", label="ALARM", lead_colour="red",
            part=WiringPart(pattern="diode", name="Diode D2", positive=False),
            wire_colour="grey", plug="Body module plug A", pin="12", function="alarm",
        ),
        WiringRow(
            task="Unlock", joint="tap", where=module, kit_pin="H2/2", terminal="unlock, negative", label="UNLOCK",
            lead_colour="blue",
            part=WiringPart(pattern="relay grounds", name="Relay K5", positive=False, feed="H1/2", feed_label="FEED 2",
                            ground="H1/1"),
            wire_colour="tan", plug="Body module plug A", pin="9", function="unlock",
        ),
        WiringRow(
            task="Hatch", joint="tap", where=module, kit_pin="H2/8", label="HATCH", lead_colour="orange",
            part=WiringPart(pattern="relay grounds", name="Relay K3", positive=True, ground="H1/1"),
            wire_colour="black", plug="Body module plug A", pin="10", function="hatch",
        ),
        WiringRow(
            task="Driver unlock", joint="cut in", where=module, kit_pin="H2/3", label="UNLOCK 1", lead_colour="blue",
            lead_stripe="red", part=WiringPart(pattern="relay changes over", name="Relay K6", positive=False, **fed),
            wire_colour="tan", wire_stripe="black", plug="Body module plug A", pin="11", function="driver, unlock leg",
            factory_side="harness side",
        ),
        WiringRow(
            task="Stop", joint="cut in", where=module, kit_pin="H2/4", label="STOP", lead_colour="yellow",
            part=WiringPart(pattern="relay changes over", name="Relay K7", positive=True, ground="H1/1", **fed),
            wire_colour="violet", plug="Body module plug A", pin="14", function="brake line", factory_side="plug side",
        ),
        WiringRow(
            task="Ground", din="31", joint="ground point", where="Left kick panel", kit_pin="H1/1", label="GROUND",
            lead_colour="black", size=size, note="Bolt below the kick panel.",
        ),
        WiringRow(
            task="Hood switch", joint="added part", where="Hood pin", kit_pin="H2/9", label="HOOD", lead_colour="grey",
            function="hood pin from the bag", note="Left fender rail.",
        ),
        WiringRow(
            task="Bus", joint="plug", where="Diagnostic socket", kit_pin="H4/1", label="BUS", lead_colour="violet",
            branch="BUS", plug="Diagnostic socket", pin="6", function="data bus", wire_colour="grey",
        ),
        WiringRow(
            task="Tach", joint="bus", where="Without a wire", terminal="vehicle module",
            note="The vehicle module reads engine speed from the data bus.",
        ),
        WiringRow(task="Run time", joint="setting", where="Without a wire", note="Setting 12 is 10 minutes."),
        WiringRow(task="Wipers", joint="none", where="Without a wire", note="This car has no wire for it."),
    )  # fmt: skip


def reading(text: Callable[[str], str], name: str) -> ReadingField:
    return ReadingField(
        id=name,
        clip=text("the battery's negative post"),
        probe=text("pin 3, from the wire side"),
        state=text("key at run, brake pedal pressed"),
        expect=(text("at most "), volts(0.4), text(" below the battery")),
        relative=True,
        verdicts=(
            Verdict(low=None, high=volts(0.4), words=text("The wire is live and its path is sound."), good=True),
            Verdict(low=volts(0.4), high=volts(2.0), words=text("Live, but something on the way is weak."), good=False),
            Verdict(low=volts(10.0), high=None, words=text("This is not the wire, or its fuse is out."), good=False),
            Verdict(low=None, high=None, words=text("Something else loads this wire. Stop and report."), good=False),
        ),
        lamp=text("glows at full brightness"),
        lamp_allowed=True,
    )


def resting(text: Callable[[str], str], name: str) -> ReadingField:
    """The same point with the switch off: other limits, and a meaning that begins as one of the other reading."""
    return ReadingField(
        id=name,
        clip=text("the battery's negative post"),
        probe=text("pin 3, from the wire side"),
        state=text("key at run, brake pedal free"),
        expect=(text("nothing: "), volts(0.2), text(" or less")),
        relative=False,
        verdicts=(
            Verdict(low=None, high=volts(0.2), words=text("Right."), good=True),
            Verdict(low=volts(0.2), high=None, words=text("This is not the wire, or its fuse is out."), good=False),
        ),
        lamp=text("stays dark"),
        lamp_allowed=True,
    )


def resistance(text: Callable[[str], str]) -> ReadingField:
    ohm = Quantity(value=1.0, unit="Ω", trace="reading:sample/ground", digits=1)
    return ReadingField(
        id="ground-path",
        clip=text("the eyelet of the ground lead"),
        probe=text("the bare metal beside the bolt"),
        state=text("battery disconnected"),
        expect=(text("at most "), ohm),
        relative=False,
        verdicts=(
            Verdict(low=None, high=ohm, words=text("Good ground."), good=True),
            Verdict(low=ohm, high=None, words=text("Clean the metal and tighten the bolt."), good=False),
        ),
        lamp=text("a lamp cannot tell a good ground from a fair one"),
        lamp_allowed=False,
    )


def _front(t: Callable[[str], str]) -> tuple[Block, ...]:
    return (
        Heading(text=t("Before you start"), level=1, anchor="start"),
        Paragraph(text=(t("This guide fits one kit into one car. It takes about "),
                        Quantity(value=3.5, unit="h", trace="minutes:sample", digits=1), t(" the first time."))),
        Heading(text=t("Is this your car?"), level=2),
        Bullets(items=((t("The key is a plain blade without buttons."),), (t("The shifter is on the floor."),),
                       (t("The plug behind the column looks like the drawing."),)), ticked=True),
        Face(plug="ignition", title=t("Ignition switch plug"), drawing=face("ignition", "4", (), t).drawing,
             words=t("Six places, two of them large.")),
        Heading(text=t("In the bag"), level=2),
        Table(head=(t("Part"), t("Count"), t("Label")),
              rows=(((t("Controller"),), (Quantity(value=1, unit="", trace="kit:1", digits=0),), (t("A1"),)),
                    ((t("Relay, socket"),), (Quantity(value=2, unit="", trace="kit:2", digits=0),), (t("K2, K3"),))),
              caption=t("What came in the bag"), widths=(3, 1, 2)),
        Heading(text=t("Where things are"), level=2),
        Picture(drawing=DashMap(spots=spots()), caption=t("The footwell, seen from the driver's seat"),
                words=t("Six numbered places between the door and the centre stack."), wide=True),
        Caution(word="DANGER", text=(t("Never run this engine in a closed space, door open or not. Exhaust gas that you"
                                       " cannot smell will kill."),)),
        Paragraph(text=(t("Set aside an afternoon, daylight and a helper for the tests."),), small=True),
    )  # fmt: skip


def _steps(t: Callable[[str], str], copy: str) -> tuple[Block, ...]:
    return (
        Step(
            id=f"battery-off{copy}", title=t("Disconnect the battery"), kind="prepare",
            needs=StepNeeds(battery="on", key="out", tool=t("10 mm wrench")), place=t("under the hood, left"),
            access=(t("Open the hood."), t("Fold back the cover of the negative post.")),
            do=((t("Take the negative cable off and tuck it beside the battery."),),),
            see=(t("The dome lamp is dark."),),
            if_not=(t("A second battery feeds the car: stop and call."),),
            cautions=(
                Caution(word="WARNING", text=(t("Wear eye protection. A spark can make the battery burst."),)),
                Caution(word="NOTICE", text=(t("Write down radio and window codes: they may be lost."),)),
            ),
        ),
        Step(
            id=f"ground{copy}", title=t("Fasten the ground lead"), kind="join",
            needs=StepNeeds(battery="off", key="out", panel=t("left kick panel"), tool=t("10 mm wrench")),
            place=t("left kick panel, above the carpet"), access=(t("Pull the panel towards you at its top edge."),),
            do=((t("Loosen the bolt."),), (t("Put the eyelet under it and tighten."),)),
            see=(t("The eyelet does not turn by hand."),), if_not=(t("Clean the metal and tighten again."),),
            label="GROUND", lead_colour="black",
            picture=Picture(drawing=DashMap(spots=spots(), highlight=("ground",)), caption=t("The ground bolt"),
                            words=t("Place 6, at the left below the dash.")),
            readings=(resistance(t),),
            cautions=(Caution(word="CAUTION", text=(t("Trim edges cut. Wear gloves."),)),),
            may_stop=True,
        ),
        Caution(word="WARNING", text=(t("Leave yellow-sleeved wiring alone: it belongs to the airbags."),)),
        Step(
            id=f"brake{copy}", title=t("Find the parking-light wire"), kind="measure",
            needs=StepNeeds(battery="on", key="run", tool=t("meter")), place=t("body module, left of the column"),
            access=(t("Lie on your back, head under the column."), t("Push the trim clip aside.")),
            do=((t("Touch pin 3 from the wire side, beside the brown/white wire."),),
                (t("Switch the parking lights on and off."),)),
            see=(t("The reading follows the switch; on, it is at most "), volts(0.4), t(" below the battery.")),
            if_not=(t("Check the neighbour, then stop and report both readings."),),
            label="PARK (-)", lead_colour="white/blue", wire_colour="brown/white",
            count=t("Upper row, third place from the right."),
            neighbours=t("Between a yellow/black and a green wire. Do not touch yellow/black."),
            face=face("body", "3", ("2",), t), readings=(reading(t, f"park{copy}"), resting(t, f"dark{copy}")),
            unproven=t("Nobody has measured this wire on this model year; two sibling cars had it."),
        ),
        Step(
            id=f"tap{copy}", title=t("Join the ignition lead"), kind="join",
            needs=StepNeeds(battery="off", key="off"), place=t("behind the column shroud"), access=(),
            do=((t("Plug the T-harness between the ignition switch plug and its mate."),),),
            see=(t("Both latches click."),), if_not=(t("Turn the plug; it goes in one way only."),),
            label="IGN 1", lead_colour="pink", wire_colour="pink/black", face=face("ignition", "4", ("2",), t),
        ),
        Heading(text=t("Teaching the kit"), level=2),
        Step(
            id=f"learn{copy}", title=t("Let the vehicle module learn the car"), kind="program",
            needs=StepNeeds(battery="on", key="run"), place=t("driver's seat"), access=(),
            do=((t("Press the button three times."),), (t("Wait for the lamp."),)),
            see=(t("The lamp blinks twice, then stays lit."),), if_not=(t("Key out, wait a minute, try once more."),),
            may_stop=True,
        ),
        Step(
            id=f"test{copy}", title=t("Test the brake input"), kind="test",
            needs=StepNeeds(battery="on", key="any"), place=t("driver's seat"), access=(),
            do=((t("Start by the remote, then press the brake."),),),
            see=(t("The engine stops at once."),), if_not=(t("Do not use the kit. Stop and report."),),
            cautions=(Caution(word="DANGER", text=(t("Only outdoors, wheels chocked, nobody in front."),)),),
        ),
    )  # fmt: skip


def _build(t: Callable[[str], str], copies: int) -> Paper:
    blocks: list[Block] = list(_front(t))
    for copy in range(copies):
        blocks.append(Heading(text=t("The work" if not copy else f"The work, part {copy + 1}"), level=1))
        blocks.extend(_steps(t, f"-{copy}" if copy else ""))
    blocks.extend((
        Heading(text=t("Wiring plan"), level=1),
        Picture(drawing=WiringPlan(rows=plan_rows()), caption=t("From the kit to the car"),
                words=t("One row for each lead."), wide=True),
        Heading(text=t("If something is odd"), level=1),
        reading(t, "loose"),
        Bullets(items=((t("Stop."),), (t("Write down both readings."),), (t("Call."),)), numbered=True),
        Bullets(items=((t("A plain list."),), (t("Second entry."),))),
    ))  # fmt: skip
    return Paper(
        id="guide",
        title=t("Fitting the North Wind kit"),
        subtitle=t("Aldermoor Finch 2018, plain key, automatic"),
        language="en",
        marks={
            "kit": t("north-wind rev 3"),
            "installation": t("7f3a91c2"),
            "made with": "Loomwright 0.1.0",
        },
        blocks=tuple(blocks),
    )


def sample() -> Paper:
    """Return a paper with every kind of block."""
    return _build(lambda words: words, 1)


def long_guide() -> Paper:
    """Return a guide of at least twelve pages."""
    return _build(lambda words: words, 4)


def nasty() -> Paper:
    """Return the same paper with hostile text in every place that takes text."""
    return _build(lambda words: f"{words} {NASTY}", 1)
