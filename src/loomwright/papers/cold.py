"""Panels behind which an airbag sits: the battery is off whenever one of them comes off or goes on."""

from loomwright.papers.blocks import Text
from loomwright.papers.job import Job
from loomwright.papers.saying import listed
from loomwright.papers.words.en import measuring as words
from loomwright.papers.words.en import naming

__all__ = ["cold_again"]


def cold_again(job: Job) -> tuple[Text, ...]:
    """Return the reminder for wherever panels go on or come off; nothing for a car without such a panel."""
    if not job.cold_places:
        return ()
    named = listed((job.car.places[p].name for p in job.cold_places), naming.AND)
    return (job.say(words.COLD_AGAIN, places=named, wait=job.wait),)
