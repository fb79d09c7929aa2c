"""Who a paper is for, by name; kept apart from the stories, so that a command can name them without loading those."""

TITLES = {
    "parent": "In two pages",
    "buyer": "For the buyer",
    "shop": "For the shop",
    "customer": "Proposed work",
    "annex": "Technical annex",
}
PAGES = {"parent": 2}  # what a reader's paper must hold in
