"""Options that several commands share, each worded once."""

import click

shop_option = click.option("--shop", metavar="FILE", help="A workshop's own rates and prices instead of the defaults.")
seed_option = click.option(
    "--seed", type=click.IntRange(0, 2**31 - 1), default=1, show_default=True, help="Seed of the draws."
)
overlay_option = click.option(
    "--overlay", multiple=True, metavar="FILE", help="A workshop's own opinions over the rubric."
)
json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON instead of words.")
sales_option = click.option(
    "--sales",
    metavar="FILE.csv",
    help="Known sales; with three or more of the like, the value when ready is taken from them.",
)
leave_out_option = click.option(
    "--leave-out-moved", is_flag=True, help="Leave out the sales that had to be adjusted by more than half."
)
