"""`demo`: write the demonstration shop into a folder."""

from pathlib import Path

import click

from loomwright.errors import LoomwrightError

__all__ = ["demo"]


@click.command("demo")
@click.argument("folder", type=click.Path(path_type=Path, file_okay=False))
@click.option("--replace", is_flag=True, help="Replace files of yours that differ from the demonstration's.")
def demo(folder: Path, *, replace: bool) -> None:
    """Write the demonstration shop into FOLDER: shop.yaml, vehicles, kits and evidence.

    Files that you changed are kept unless you say --replace.
    """
    from loomwright.cli.files import write_whole
    from loomwright.documents.demo import demo_files

    files = {folder / name: text.encode() for name, text in demo_files().items()}
    changed = [path for path, text in files.items() if path.is_file() and path.read_bytes() != text]
    if changed and not replace:
        raise LoomwrightError(
            f"{changed[0]}: found a file that differs from the demonstration's, expected none or the same; "
            "choose another folder, or say --replace to lose your change"
        )
    write_whole(files)
    click.echo(f"The demonstration shop is in {folder}: {len(files)} files.")
