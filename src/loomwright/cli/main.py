"""The entry point: one group of commands, each loaded only when it is called.

Exit codes: 0 all is well, 1 there are findings, 2 the input or the way of calling is wrong.
A command is a function that returns its exit code, or nothing for 0.
"""

from collections.abc import Mapping, Sequence
from importlib import import_module

import click

from loomwright import __version__
from loomwright.errors import DocumentError, LoomwrightError

__all__ = ["BAD_INPUT", "COMMANDS", "FINDINGS", "OK", "LazyGroup", "main"]

OK = 0
FINDINGS = 1
BAD_INPUT = 2
_INTERRUPTED = 130  # 128 + SIGINT, what a shell reports for a program ended by Ctrl-C: common practice

_MOST_MESSAGES = 100  # a file of another program can have a fault in each of its lines; nobody reads on after these

COMMANDS: Mapping[str, tuple[str, str]] = {
    "ask": ("loomwright.cli.ask:ask", "Ask what settles whether a kit fits a buyer's car."),
    "check": ("loomwright.cli.check:check", "Read documents and tell everything that is wrong with them."),
    "demo": ("loomwright.cli.demo:demo", "Write the demonstration shop into a folder."),
    "doctor": ("loomwright.cli.doctor:doctor", "Tell whether everything on this machine is in order."),
    "export": ("loomwright.cli.export_store:export", "Write everything that the shop keeps into a folder or a .zip."),
    "import": ("loomwright.cli.import_store:import_", "Take an export, or a folder of documents, into a store."),
    "match": ("loomwright.cli.match:match", "Tell whether a kit fits a car, how, and why not."),
    "problem-report": ("loomwright.cli.problem_report:problem_report", "Save what whoever helps you has to see."),
    "readings": ("loomwright.cli.readings:readings", "Tell what a meter must read at each point, step by step."),
    "rehearse": ("loomwright.cli.rehearse:rehearse", "Rehearse a start in time and in every order of events."),
    "restore": ("loomwright.cli.restore_store:restore", "Make a store from a backup."),
    "serve": ("loomwright.cli.serve:serve", "Open the workbench in a browser on this machine."),
    "schema": ("loomwright.cli.schema:schema", "Print the keys that a document may have."),
    "weigh": ("loomwright.cli.weigh:weigh", "Tell which fact of the documents matters most: what to measure next."),
    "write": ("loomwright.cli.write:write", "Write the guide and the sheets for a car and a kit."),
}


class LazyGroup(click.Group):
    """A group whose help is a literal table, so that listing the commands imports none of them."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names of the table, in its order."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import and return one command, or `None` where the table has no such name."""
        if cmd_name not in COMMANDS:
            return None
        module_name, _, attribute = COMMANDS[cmd_name][0].partition(":")
        command = getattr(import_module(module_name), attribute)
        if not isinstance(command, click.Command):
            msg = f"{COMMANDS[cmd_name][0]} is not a command"
            raise TypeError(msg)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the list of commands from the table alone."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, line) for name, (_, line) in COMMANDS.items()])


@click.group(cls=LazyGroup, name="loomwright", context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="loomwright")
def _group() -> None:
    """Compute the wiring, the guide and the expected readings of a remote-start kit in one vehicle.

    Exit codes: 0 all is well, 1 there are findings, 2 the input is wrong.
    """


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code.

    Parameters
    ----------
    arguments
        The words after the program's name; those of this process where it is `None`.

    Returns
    -------
    int
        0 all is well, 1 there are findings, 2 the input or the way of calling is wrong.
    """
    try:
        result = _group.main(
            args=None if arguments is None else list(arguments), prog_name="loomwright", standalone_mode=False
        )
    except click.ClickException as problem:
        problem.show()
        return BAD_INPUT
    except click.Abort:
        click.echo("Stopped.", err=True)
        return _INTERRUPTED
    except DocumentError as problem:
        for message in problem.messages[:_MOST_MESSAGES]:
            click.echo(str(message), err=True)
        if (more := len(problem.messages) - _MOST_MESSAGES) > 0:
            click.echo(f"... and {more} more faults; correct these first and ask again.", err=True)
        return BAD_INPUT
    except LoomwrightError as problem:
        click.echo(str(problem), err=True)
        return BAD_INPUT
    return result if isinstance(result, int) else OK
