"""`schema`: print the keys that a kind of document may have."""

import click

from loomwright.errors import LoomwrightError

__all__ = ["schema"]


@click.command("schema")
@click.argument("kind")
def schema(kind: str) -> None:
    """Print the JSON Schema of a KIND of document: vehicle, kit, shop or evidence.

    Editors that know JSON Schema complete keys with it and mark faults while you type.
    """
    import json

    from loomwright.documents.kinds import MODELS
    from loomwright.documents.schema import schema as schema_of

    try:
        found = schema_of(kind, MODELS)
    except ValueError as problem:
        raise LoomwrightError(str(problem)) from problem
    click.echo(json.dumps(found, indent=2, ensure_ascii=False))
