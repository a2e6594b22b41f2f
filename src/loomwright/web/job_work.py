"""What is done with jobs, whoever asks for it: a page or another program."""

import json
from collections.abc import Mapping
from datetime import UTC

from loomwright.documents.job import Job
from loomwright.documents.reading import Source, read_document
from loomwright.documents.unseen import without_unseen
from loomwright.network.results import verdict
from loomwright.planning.installation import Installation
from loomwright.sheets import render
from loomwright.store.values import Attachment, Revision
from loomwright.web.asking import WebError
from loomwright.web.desk import Desk, Fit
from loomwright.web.page_fit import is_sold
from loomwright.web.page_sheets import FORMS, guide_paper

__all__ = ["issue_guide", "job_name", "job_of", "new_job", "quoted"]


def job_name(fit: Fit) -> str:
    """Return what a job is called."""
    return f"{fit.kit.name} {fit.kit.revision} in the {fit.car.name}"


def job_of(desk: Desk, serial: str) -> Job:
    """Return a job.

    Raises WebError where there is none.
    """
    revision = desk.revision("job", serial)
    found = read_document(Source(file=f"job/{serial}", text=revision.text), {"job": Job}).document
    if not isinstance(found, Job):
        raise WebError(404, f"There is no job {serial!r} in this shop.")
    return found


def new_job(desk: Desk, fit: Fit, *, buyer: str, contact: str, note: str, by: str) -> Revision:
    """Give a kit in a car a serial of its own.

    Raises WebError where the kit does not fit.
    """
    if not is_sold(fit) or fit.proof is None or not isinstance(fit.found, Installation):
        raise WebError(409, "A kit that does not fit is not sold for this car.")
    buyer, contact, note = (without_unseen(text) for text in (buyer, contact, note))
    person = desk.store.add_person(buyer, contact=contact).id if buyer else ""
    serial = desk.store.new_serial(by=by)
    job = Job(
        format=1, kind="job", id=serial, name=job_name(fit), vehicle=fit.car.vehicle, kit=fit.kit.id,
        choice=dict(fit.car.choice), verdict=verdict(fit.found, fit.proof.findings),
        unproven=sum(f.code == "unproven" for f in fit.proof.findings), buyer=person, note=note[:2000],
    )  # fmt: skip
    return desk.store.save("job", serial, job, by=by)


def issue_guide(desk: Desk, job: Job, fit: Fit, *, by: str) -> Revision:
    """Make the guide as it is now and keep it for ever under the job's serial.

    Raises WebError where the kit does not fit any more.
    """
    if not is_sold(fit):
        raise WebError(409, "The kit does not fit this car any more: look at the verdict before a guide goes out.")
    marks: Mapping[str, str] = {"serial": job.id, "issued": desk.clock().astimezone(UTC).date().isoformat()}
    paper = guide_paper(desk, fit, marks)
    files = [
        Attachment(name=f"guide-{job.id}{ending}", media_type=media.partition(";")[0], data=render(paper, form))
        for ending, (form, media) in FORMS.items()
    ]
    plan = fit.found.id if isinstance(fit.found, Installation) else ""
    text = f"format: 1\nkind: issue\njob: {quoted(job.id)}\ninstallation: {quoted(plan)}\n"
    return desk.store.record("issue", job.id, text, by=by, attach=files)


def quoted(text: str) -> str:
    """Return text as a YAML scalar: JSON's strings are YAML's."""
    return json.dumps("".join(c for c in text if c.isprintable()), ensure_ascii=True)
