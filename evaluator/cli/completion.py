"""The command that teaches a shell to complete the others."""

import click

SHELLS = ("bash", "zsh", "fish")
HOW = {
    "bash": 'put  eval "$(evaluator completion bash)"  into ~/.bashrc',
    "zsh": 'put  eval "$(evaluator completion zsh)"  into ~/.zshrc',
    "fish": "put  evaluator completion fish | source  into ~/.config/fish/config.fish",
}


@click.command()
@click.argument("shell", type=click.Choice(SHELLS))
@click.pass_context
def completion(context: click.Context, shell: str) -> None:
    """Print what a shell needs to complete commands and options with the tab key."""
    from click.shell_completion import get_completion_class

    found = get_completion_class(shell)
    assert found is not None, "click knows the shells that are offered"
    whole = context.find_root()
    script = found(whole.command, {}, "evaluator", "_EVALUATOR_COMPLETE").source()
    click.echo(script)
    click.echo(f"To keep it, {HOW[shell]}.", err=True)
