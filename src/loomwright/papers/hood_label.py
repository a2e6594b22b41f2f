"""The label for the underside of the hood: who reaches in must know that the engine can start by itself."""

from collections.abc import Mapping

from loomwright.documents.shop import Shop
from loomwright.network.results import Proof, Readings
from loomwright.papers.blocks import Caution, Paper, Paragraph
from loomwright.papers.fuse_places import fuses_found
from loomwright.papers.job import Job
from loomwright.papers.saying import listed
from loomwright.papers.words.en import cards as words
from loomwright.papers.words.en import naming
from loomwright.planning.installation import Installation
from loomwright.sentences import told

__all__ = ["hood_label"]


def hood_label(
    installation: Installation, proof: Proof, readings: Readings, shop: Shop, marks: Mapping[str, str]
) -> Paper:
    """Return the label for the underside of the hood, with its warning and what to unplug before one reaches in.

    Parameters
    ----------
    installation, proof, readings, shop
        The car and the kit in it, and whom to call.
    marks
        What identifies this issue of the sheet; name -> text.
    """
    job = Job(installation=installation, proof=proof, readings=readings, shop=shop)
    plugs = listed(dict.fromkeys(job.terminal(j).plug.upper() for j in installation.joints), naming.AND)
    before = job.say(words.LABEL_FUSES if job.fused else words.LABEL_PLUGS, fuses=fuses_found(job), plugs=plugs)
    return Paper(
        id="hood-label", title=words.LABEL_TITLE, subtitle=told(words.LABEL_SUBTITLE, car=job.car.name), language="en",
        marks=job.marks(marks),
        blocks=(
            Caution(word="WARNING", text=job.say(words.LABEL_WARNING, before=before)),
            Caution(word="DANGER", text=job.say(words.LABEL_GARAGE)),
            Paragraph(text=job.say(words.LABEL_KIT, kit=job.kit.name, revision=job.kit.revision)),
            Paragraph(text=job.call_line),
            Paragraph(text=job.say(words.LABEL_CUT), small=True),
        ),
    )  # fmt: skip
