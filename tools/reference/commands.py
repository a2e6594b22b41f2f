"""docs/reference/commands.md: what each command says of itself."""

import inspect

import click

from loomwright.cli import main as entry
from tools.reference.markdown import page

__all__ = ["commands_page"]

_WIDTH = 100


def _help(command: click.Command, name: str) -> str:
    """Return what ``--help`` prints, at a fixed width, so that the page is the same on every screen."""
    context = click.Context(
        command, info_name=name, terminal_width=_WIDTH, max_content_width=_WIDTH,
        help_option_names=["-h", "--help"],
    )  # fmt: skip
    return command.get_help(context).rstrip()


def commands_page() -> str:
    """Return the page."""
    group = entry.LazyGroup(name="loomwright")
    parts = []
    for name in entry.COMMANDS:
        command = group.get_command(click.Context(group), name)
        if command is None:
            raise LookupError(name)
        parts += [f"## {name}", f"```text\n{_help(command, f'loomwright {name}')}\n```"]
    return page(
        "Commands",
        "Every command answers `--help` with the text below.",
        "## Exit codes\n\n"
        f"* {entry.OK}: all is well.\n"
        f"* {entry.FINDINGS}: the command worked, and there are findings: the kit does not fit, or fits with "
        "exceptions.\n"
        f"* {entry.BAD_INPUT}: a document or the way of calling is wrong; the message says where and what to do.",
        inspect.cleandoc(
            """
            ## Choosing a car

            A vehicle document describes a whole family. `--with` says which car of it is meant, one word for each
            axis: `--with engine=2.4 year=2013 body=sedan trim=touring`. What follows the first `axis=value` needs no
            second `--with`. An axis that you leave out is asked for.

            The shop document and the evidence are found by themselves where the vehicle lies in the folder `vehicles`
            beside `shop.yaml`.
            """
        ),
        *parts,
    )
