"""The few files that pages load: the style of the papers, what the workbench adds to it, and one script."""

import hashlib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from loomwright.web.asking import Bytes, WebError

__all__ = ["static_file", "versioned"]

# Name in the address -> package, path inside it, media type.
_FILES: Mapping[str, tuple[str, str, str]] = MappingProxyType({
    "manual.css": ("loomwright.sheets", "templates/manual.css", "text/css; charset=utf-8"),
    "workbench.css": ("loomwright.web", "static/workbench.css", "text/css; charset=utf-8"),
    "entering.css": ("loomwright.web", "static/entering.css", "text/css; charset=utf-8"),
    "rows.js": ("loomwright.web", "static/rows.js", "text/javascript; charset=utf-8"),
    "htmx.js": ("js_lib_htmx", "static/htmx/htmx.min.js", "text/javascript; charset=utf-8"),
})  # fmt: skip


@cache
def static_file(name: str) -> Bytes:
    """Return a file that pages load.

    Raises WebError where there is none of that name.
    """
    if name not in _FILES:
        raise WebError(404, "There is no such file.")
    package, path, media_type = _FILES[name]
    found = files(package)
    for part in path.split("/"):
        found = found / part
    return Bytes(data=found.read_bytes(), media_type=media_type)


@cache
def versioned(name: str) -> str:
    """Return the address of a file with a mark of its content, so that browsers may keep it for good."""
    return f"/static/{name}?v={hashlib.sha256(static_file(name).data).hexdigest()[:12]}"
