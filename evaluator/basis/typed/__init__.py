"""The one home of readers for what a person types: every page, command and file comes here.

A reader takes the text as it was typed and gives a value, or a `Problem` in one sentence. What can be read in two ways
is never decided in silence: the Problem names both readings, and asks.
"""
