"""The trade's calculators: one registry for the command line, the pages and JSON; the formulas lie further down."""
