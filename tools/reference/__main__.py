"""Write the reference pages, or tell with ``--check`` which of them are out of date."""

import sys
from pathlib import Path

from tools.reference.pages import pages

FOLDER = Path(__file__).parent.parent.parent / "docs" / "reference"


def main(words: list[str]) -> int:
    stale = []
    for name, text in pages().items():
        path = FOLDER / name
        if path.is_file() and path.read_text(encoding="utf-8") == text:
            continue
        stale.append(name)
        if "--check" not in words:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
    done = "out of date" if "--check" in words else "written"
    print(f"{done}: {', '.join(stale)}" if stale else "All reference pages are current.")
    return 1 if stale and "--check" in words else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
