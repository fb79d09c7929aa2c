"""What a formula raises when its figures describe something that cannot be, such as a circle through a line."""


class ImpossibleError(ValueError):
    """No answer exists for these figures; the text says why in words for the person who gave them."""
