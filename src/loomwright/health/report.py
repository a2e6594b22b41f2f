"""A problem report: one archive for whoever is asked for help, without personal data, shown before it is saved."""

import io
import re
import zipfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from loomwright.health.check import Check, told
from loomwright.health.log import tail
from loomwright.health.versions import versions
from loomwright.store.values import Revision

__all__ = ["KINDS", "ProblemReport", "problem_report"]

KINDS = ("vehicle", "kit", "evidence")
"""Documents that may be in a report. Jobs and readings are of buyers, the shop's own document has its telephone."""
_MOMENT = (1980, 1, 1, 0, 0, 0)
_BY = re.compile(r"(^|[\s,{])(by: *)(\"[^\"\n]*\"|'[^'\n]*'|[^,}\n]+)", re.MULTILINE)
_HOME = re.compile(r"(?<![\w.])(/(?:home|Users|root)(?:/[^/\s:'\"]+)?|[A-Z]:\\Users\\[^\\\s:'\"]+)")


@dataclass(frozen=True, slots=True, kw_only=True)
class ProblemReport:
    """What is in the archive: text by name of the file, in order."""

    files: Mapping[str, str]

    @property
    def data(self) -> bytes:
        """Return the archive; the same report gives the same bytes."""
        out = io.BytesIO()
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
            for name, text in self.files.items():
                archive.writestr(zipfile.ZipInfo(name, _MOMENT), text, zipfile.ZIP_DEFLATED)
        return out.getvalue()


def problem_report(checks: Sequence[Check], folder: Path, documents: Sequence[Revision] = ()) -> ProblemReport:
    """Put a report together.

    Parameters
    ----------
    checks
        What the self-check said.
    folder
        Where the workbench keeps its log.
    documents
        Documents that the report shall hold; who measured is taken out of them.

    Raises
    ------
    ValueError
        For a document of a kind that may not be in a report.
    """
    if wrong := [d.kind for d in documents if d.kind not in KINDS]:
        msg = f"documents: found a {wrong[0]}, expected one of {', '.join(KINDS)}"
        raise ValueError(msg)
    files = {
        "versions.txt": "".join(f"{name} {version}\n" for name, version in versions().items()),
        "self-check.txt": _without_names(told(checks)) + "\n",
        "log.txt": _without_names(tail(folder)) + "\n",
    }
    for document in documents:
        files[f"documents/{document.kind}-{document.id}.yaml"] = _BY.sub(r"\1\2somebody", document.text)
    head = (
        "A problem report of Loomwright. It holds nothing about buyers, no names, no addresses and no passphrase.\n"
        "Files in it:\n"
    )
    return ProblemReport(files={"what-is-in-it.txt": head + "".join(f"  {name}\n" for name in files), **files})


def _without_names(text: str) -> str:
    """Take the names of people's own folders out of paths."""
    return _HOME.sub("~", text)
