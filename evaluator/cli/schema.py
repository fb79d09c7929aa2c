"""The command for who reads our JSON: the schema of what `--json` prints."""

import click

from .files import emit


@click.command()
@click.argument("of", type=click.Choice(["result", "rubric"]))
def schema(of: str) -> None:
    """Print the JSON Schema of a result (`score --json`), or of rubric files for editors."""
    if of == "result":
        from ..result.json_form import result_schema

        emit(result_schema())
        return
    from ..rubric.file import schema as rubric_schema

    emit(rubric_schema())
