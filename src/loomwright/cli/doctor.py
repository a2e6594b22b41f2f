"""`doctor`: tell whether everything on this machine is in order."""


import click

from loomwright.cli.main import FINDINGS, OK

__all__ = ["doctor"]


@click.command("doctor")
@click.option(
    "--store", default="loomwright.store", show_default=True, metavar="PATH",
    help="The shop's store, a file or a postgresql:// address; it is looked through.",
)  # fmt: skip
def doctor(*, store: str) -> int:
    """Look whether everything is in order: Python, packages, fonts, the typesetter, the store, the disk, and a result.

    It also tells whether the compiled loops, which nobody has to have, are there.

    Exit code 0: everything is. 1: something is not, and what to do stands beside it.
    """
    from loomwright.cli.health_of import examined
    from loomwright.health.check import told

    checks = examined(store)[0]
    click.echo(told(checks))
    good = all(check.good for check in checks)
    click.echo("Everything is in order." if good else "Something is not in order; what to do stands beside it.")
    return OK if good else FINDINGS
