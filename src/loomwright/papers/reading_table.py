"""The table of expected readings: every point, every state, what a meter shows and whether a lamp may be used."""

from loomwright.documents.shop import Shop
from loomwright.network.results import Proof, Reading, Readings
from loomwright.papers.blocks import Paper, Paragraph, Table, Text
from loomwright.papers.job import Job, function_words, plug_of
from loomwright.papers.quantity import Quantity
from loomwright.papers.reading_fields import expect_text, lamp_words, state_text
from loomwright.papers.saying import say
from loomwright.papers.words.en import sheets as words
from loomwright.planning.installation import Installation
from loomwright.sentences import told

__all__ = ["reading_table"]


def reading_table(installation: Installation, readings: Readings, shop: Shop) -> Paper:
    """Return all readings of an installation as one table, in fitting order.

    Parameters
    ----------
    installation, readings
        What was planned, and what a meter must show there.
    shop
        The units.
    """
    unproved = Proof(
        installation=installation, findings=(), nodes=0, elements=0, states=(), points=0, worst_residual=0.0
    )
    job = Job(installation=installation, proof=unproved, readings=readings, shop=shop)
    battery = told("{volts:.1f} V", volts=readings.battery_v)
    return Paper(
        id="readings",
        title=words.READINGS_TITLE,
        subtitle=told(words.READINGS_SUBTITLE, kit=job.kit.name, car=job.car.name, battery=battery),
        language="en",
        marks=job.marks({}),
        blocks=(
            Paragraph(text=say(words.READINGS_INTRO)),
            Table(
                head=words.READINGS_TABLE,
                rows=tuple(_row(job, r) for r in readings.readings),
                widths=(2.6, 1.4, 2.0, 2.2, 1.2, 0.8, 1.6),
            ),
        ),
    )


def _point(job: Job, reading: Reading) -> Text:
    joint = next((j for j in job.installation.joints if j.id == reading.joint), None)
    if joint is None:
        return say(words.POINT_BATTERY)
    function = function_words(joint.function)
    if reading.purpose == "identify" and joint.pin is not None:
        return say(
            words.POINT_JOINT, label=joint.label, function=function, plug=job.car.plugs[plug_of(joint.pin)].name,
            pin=joint.pin.partition("/")[2], colour=job.wire(joint),
        )  # fmt: skip
    terminal = job.terminal(joint)
    return say(words.POINT_TERMINAL, label=joint.label, function=function, plug=terminal.plug.upper(), pin=terminal.pin)


def _row(job: Job, reading: Reading) -> tuple[Text, ...]:
    band = reading.band
    trace = f"reading:{reading.id}"
    low, high = (Quantity(value=v, unit="V", trace=trace, digits=2) for v in (band.lo, band.hi))
    return (
        _point(job, reading),
        (words.PURPOSE[reading.purpose],),
        (state_text(job, band.state),),
        expect_text(band, trace, moving=reading.flicker),
        say(words.VOLTS, low=low, high=high) if band.driven else (words.NOTHING,),
        (words.CLIP[reading.clip],),
        (lamp_words(reading.lamp),) if reading.lamp.allowed else (told(words.NO_LAMP, why=lamp_words(reading.lamp)),),
    )
