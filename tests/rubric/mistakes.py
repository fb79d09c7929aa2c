"""One way to make each mistake of the catalogue: code, what is replaced in the small rubric, and by what.

`violin`, `jobs`, `shop` and `words` name the file that is spoilt; what must come out stands in `sentences.txt`.
"""

from typing import Any, NamedTuple

from tests.rubric.small import BENCH as BENCH_FILE
from tests.rubric.small import JOBS as JOBS_FILE
from tests.rubric.small import OWNING as OWNING_FILE
from tests.rubric.small import SHOP as SHOP_FILE
from tests.rubric.small import VIOLIN
from tests.rubric.small import WORDS as WORDS_FILE


class Mistake(NamedTuple):
    """`code` comes out when, in `file`, `old` (its first occurrence) is replaced by `new`, and so the pairs of `also`
    (old, new), or (file, old, new) where they are in another file.
    """

    code: str
    file: str
    old: str
    new: str
    also: tuple[tuple[str, ...], ...] = ()


def _in(file: str, *cases: tuple[Any, ...]) -> tuple[Mistake, ...]:
    return tuple(Mistake(code, file, old, new, tuple(also)) for code, old, new, *also in cases)


# The lengths of the sizes, so that rows can be held against their neighbours.
LENGTHS = """\
standards:
  - standard: body_length
    say: Length of the body
    unit: mm
    rows:
      - {family: violin, size: [4/4], target: 355, high: 360, confidence: high, sources: [memory]}
      - {family: violin, size: [3/4], target: 334, high: 340, confidence: high, sources: [memory]}
      - {family: violin, size: [1/2], target: 310, high: 320, confidence: high, sources: [memory]}
"""
HALF = "      - {family: violin, size: [1/2], high: 380, target: 345, confidence: low, sources: [memory]}\n"

FORM = _in(
    "violin",
    ("file.double_id", "- check: purfling", "- check: bridge_feet"),
    ("document.too_large", 'version: "1"', 'version: "1"\n' + "# long\n" * 300_000),
    ("document.binary", "title: Violin", "title: Violin\x00"),
    ("document.syntax", "say: The whole violin}", "say: The whole violin"),
    ("document.tab", "  student:", "\tstudent:"),
    ("document.several", "tools:", "---\ntools:"),
    ("document.alias", "title: Violin", "title: &name Violin"),
    ("document.tag", "title: Violin", "title: !!str Violin"),
    ("document.merge", "title: Violin", "<<: {title: Violin}"),
    ("document.double_key", "title: Violin", "title: Violin\ntitle: Viola"),
    ("document.blank_key", "title: Violin", '"": Violin'),
    ("document.brace_key", "title: Violin", "{title}: Violin"),
    ("document.too_deep", "title: Violin", "title: " + "[" * 25 + "]" * 25),
)
SHAPE = _in(
    "violin",
    ("shape.unknown_key", "    minutes: 1\n", "    minuets: 1\n"),
    ("shape.missing", "    ask: Is the line at the edge inlaid or painted?\n", ""),
    ("shape.choice", "class: acceptable, worth: 0.7", "class: acceptible, worth: 0.7"),
    ("shape.text", 'version: "1"', "version: 1"),
    ("shape.empty_text", "say: No light shows", 'say: ""'),
    ("shape.long_text", "say: No light shows", "say: " + "No light shows. " * 90),
    ("shape.number", "minutes: 1", "minutes: one"),
    ("shape.whole", "at_most: 4}", "at_most: 4.5}"),
    ("shape.too_small", "minutes: 1", "minutes: -1"),
    ("shape.too_large", "photos: 0.5", "photos: 50"),
    ("shape.yes_no", "inherent: true}", "inherent: yes}"),
    ("shape.id", "- check: purfling", "- check: Purfling type"),
    ("shape.list", "how: [Look where it crosses a worn edge.]", "how: Look where it crosses a worn edge."),
    ("shape.mapping", "measure: {quantity: mass, unit: g, tools: [scale], at_least: 200, at_most: 900}", "measure: g"),
    ("shape.few", "confidence: low, sources: [memory]", "confidence: low, sources: []"),
)
TYPED = _in(
    "shop",
    ("money.empty", '"30.00"', '" "'),
    ("money.not_an_amount", '"30.00"', "thirty"),
    ("money.two_readings", '"30.00"', "1.450"),
    ("money.too_fine", '"30.00"', '"30.0055"'),
    ("money.several_marks", '"30.00"', '"1,450,5"'),
    ("money.other_currency", '"30.00"', "€30"),
    ("money.too_large", '"30.00"', '"1000000000"'),
    ("hours.empty", "minimum_charge:", 'service_every_hours: " "\nminimum_charge:'),
    ("hours.not_a_time", "minimum_charge:", "service_every_hours: often\nminimum_charge:"),
    ("hours.day", "minimum_charge:", "service_every_hours: 8 days\nminimum_charge:"),
    ("hours.minutes", "minimum_charge:", "service_every_hours: 200:75\nminimum_charge:"),
    ("hours.outside", "minimum_charge:", "service_every_hours: 20000 h\nminimum_charge:"),
    ("number.empty", "minimum_charge:", 'rush_share: " "\nminimum_charge:'),
    ("number.not_a_number", "minimum_charge:", "rush_share: a lot\nminimum_charge:"),
    ("number.more_than_all", "minimum_charge:", 'rush_share: "40"\nminimum_charge:'),
    ("number.outside", "minimum_charge:", "rush_share: 120 %\nminimum_charge:"),
)
FORMULAS = _in(
    "violin",
    ("formula.too_long", "formula: string_length / afterlength", "formula: string_length" + " + afterlength" * 40),
    ("formula.too_deep", "formula: string_length / afterlength", "formula: " + "-" * 40 + "afterlength"),
    ("formula.syntax", "formula: string_length / afterlength", "formula: string_length afterlength"),
    ("formula.character", "formula: string_length / afterlength", "formula: string_length ÷ afterlength"),
    ("formula.number", "formula: string_length / afterlength", "formula: string_length / 1e2"),
    ("formula.large", "formula: string_length / afterlength", "formula: string_length / " + "9" * 310),
    ("formula.not_allowed", "formula: string_length / afterlength", "formula: string_length ** 2"),
    ("formula.function", "formula: string_length / afterlength", "formula: round(string_length)"),
    ("formula.arguments", "formula: string_length / afterlength", "formula: min(string_length)"),
    ("formula.text", "formula: string_length / afterlength", 'formula: string_length / "afterlength"'),
)
LOAD = _in(
    "violin",
    ("rubric.include_nothing", "include: [jobs.yaml]", "include: [jobs.yaml, checks/*.yaml]"),
    ("rubric.include_outside", "include: [jobs.yaml]", "include: [jobs.yaml, ../secret.yaml]"),
    ("rubric.head_missing", "title: Violin\n", ""),
    (
        "rubric.not_judged",
        "title: Violin\n",
        "title: Violin\njudged:\n"
        "  - {judged: opening, say: So., value: 0.7, sources: [from memory], confidence: low}\n",
    ),
    ("overlay.nothing_to_change", "sources: {common", "change: {brigde_feet: {minutes: 2}}\nsources: {common"),
    ("overlay.nothing_to_drop", "sources: {common", "drop: [post_turn]\nsources: {common"),
    ("overlay.renamed", "sources: {common", "change: {purfling: {check: edge}}\nsources: {common"),
    ("reference.default_size", "sizes: [4/4, 3/4]", "sizes: [4/4, 3/4]\ndefault_size: 7/8"),
)
REFERENCES = _in(
    "violin",
    ("reference.parts", "part: bridge\n    ask: Do", "part: brigde\n    ask: Do"),
    ("reference.checks", "count: {of: fine tuners,", "count: {of: fine tuners, units_of: [purfing],"),
    ("reference.causes", "cause: hurry\n", "cause: hurri\n"),
    ("reference.cautions", "    cause: hurry\n", "    cause: hurry\n    cautions: [string_down]\n"),
    ("reference.drawings", "    cause: hurry\n", "    cause: hurry\n    drawing: bridge_foot\n"),
    ("reference.standards", "standard: {table: weight}", "standard: {table: weights}"),
    ("reference.units", "    unit: g\n    rows", "    unit: stone\n    rows"),
    ("reference.tools", "tools: [scale]", "tools: [scales]"),
    ("reference.jobs", "cured_by: [bridge_new]", "cured_by: [bridge_now]"),
    ("reference.source", "    sources: [common]", "    sources: [comon]"),
    ("reference.itself", "formula: string_length / afterlength", "formula: string_length / ratio"),
    ("reference.formula_name", "formula: string_length / afterlength", "formula: string_length / afterlenght"),
    ("reference.formula_outcome", 'bridge_feet != "gaps"', 'bridge_feet != "gap"'),
    ("reference.formula_fact", 'style == "classical"', 'style == "clasical"'),
    ("reference.formula_text", "formula: string_length / afterlength", "formula: string_length / purfling"),
    ("reference.postponed", "    cause: hurry\n", "    cause: hurry\n    postponed_by: [bridge_feet.gap]\n"),
    (
        "reference.no_outcome",
        "      inlaid: {say: Three strips of wood, class: sound}\n",
        "",
        ("    outcomes:\n      painted: {say: A painted line, class: fault, inherent: true}\n", "    outcomes: {}\n"),
    ),
) + _in(
    "jobs",
    ("reference.shared_labour", "shares: [bridge_and_post_down]", "shares: [bridge_down]"),
    ("reference.part_prices", "parts: [{part: blank}]", "parts: [{part: blanks}]"),
)
CHECKS = _in(
    "violin",
    ("check.two_kinds", "    count: {of", "    rate: {low_means: a, high_means: b}\n    count: {of"),
    ("check.few_outcomes", "      painted: {say: A painted line, class: fault, inherent: true}\n", ""),
    ("check.nothing_good", "inlaid: {say: Three strips of wood, class: sound}",
     "inlaid: {say: Three strips, class: fault, inherent: true}"),
    ("check.side_unknown", "too_high: {say: Heavy", "heavy: {say: Heavy"),
    ("check.no_meets", "      meets: {say: Light enough, class: sound}\n", ""),
    ("check.fault_no_cure", ", inherent: true}\n    sources", "}\n    sources"),
    ("check.cure_and_inherent", "cured_by: [bridge_new]", "cured_by: [bridge_new], inherent: true"),
    ("check.cured_sound", "No light shows, class: sound", "No light shows, class: sound, cured_by: [bridge_new]"),
    ("check.cure_twice", "cured_by: [bridge_new]", "cured_by: [bridge_new + bridge_new]"),
    ("check.cure_longer", "cured_by: [bridge_new]", "cured_by: [bridge_new, bridge_new + post_adjust]"),
    ("check.cure_clash", "cured_by: [bridge_new]", "cured_by: [bridge_new + board_dress]",
     ("jobs", "    if_left: A bent", "    makes_unnecessary: [board_dress]\n    if_left: A bent")),
    ("check.made_in_cured", "A painted line, class: fault, inherent: true",
     "A painted line, class: fault, cured_by: [bridge_new]"),
    ("check.worth_order", "class: fault, worth: 0.3", "class: fault, worth: 0.8"),
    ("check.class_for_same", "class: acceptable, worth: 0.7", "class: acceptable, class_for: {fiddle: acceptable}"),
    ("check.range_without_number", "No light shows, class: sound", "No light shows, class: sound, at_least: 1"),
    ("check.number_uncovered", "class: acceptable, at_least: 3", "class: acceptable, at_least: 4"),
    ("check.number_twice", "class: acceptable, at_least: 3", "class: acceptable, at_least: 2"),
    ("check.range_empty", "at_least: 200, at_most: 900", "at_least: 900, at_most: 200"),
    ("check.nobody", "seen_by: {in_person: 0.9, photos: 0.5}", "seen_by: {in_person: 0, photos: 0}"),
    ("check.no_tool", "tools: [scale], ", ""),
    ("check.no_time", "minutes: 1", "minutes: 0"),
    ("check.too_long", "minutes: 1", "minutes: 45"),
    ("check.no_how", "    how: [Hold a light behind the feet.]\n", ""),
    ("check.cut_text", "how: [Hold a light behind the feet.]", "how: [Hold a light behind the feet, and look.]"),
    ("check.no_evidence", "evidence_of: {playability: 2}", "evidence_of: {playability: 0}"),
    ("check.no_weight", "    minutes: 1\n", "    minutes: 1\n    weight: 0\n"),
    ("check.weight_over", "    minutes: 1\n",
     "    minutes: 1\n    weight: {student: 6, intermediate: 1, professional: 1}\n"),
    ("check.no_source", "cured_by: [bridge_new]}\n    sources: [common]", "cured_by: [bridge_new]}"),
    ("check.formula_is_condition", "formula: string_length / afterlength", "formula: string_length > afterlength"),
    ("check.condition_is_number", 'relevant_if: style == "classical" and bridge_feet != "gaps"',
     "relevant_if: string_length - 300"),
    ("check.divides_by_zero", "tools: [rule], at_least: 20, at_most: 90", "tools: [rule], at_most: 90"),
    ("check.root_of_negative", "formula: string_length / afterlength", "formula: sqrt(afterlength - string_length)"),
    ("check.formula_circle", "    count: {of: fine tuners, at_most: 4}\n",
     "    formula: ratio + 1\n    unit: ratio\n    standard: {low: 1, high: 9, sources: [memory]}\n",
     ("few: {say: One or two, class: sound, at_most: 2}", "meets: {say: One, class: sound}"),
     ("many: {say: Three or four, class: acceptable, at_least: 3}",
      "too_low: {say: None, class: acceptable}\n      too_high: {say: Many, class: acceptable}"),
     ("formula: string_length / afterlength", "formula: string_length + tuners")),
    ("check.relevance_circle", "    minutes: 1\n", "    minutes: 1\n    relevant_if: tuners > 1\n"),
    ("check.never_relevant", "    minutes: 1\n", "    minutes: 1\n    styles: [fiddle]\n",
     ("    count: {of", "    styles: [classical]\n    count: {of")),
    ("check.derived_no_unit", "    unit: ratio\n", ""),
    ("check.unit_of_other_thing", "quantity: mass, unit: g", "quantity: length, unit: g"),
    ("check.tool_of_other_thing", "tools: [scale]", "tools: [rule]"),
    ("check.postponed_by_itself", "    minutes: 1\n", "    minutes: 1\n    postponed_by: [bridge_feet.gaps]\n"),
)  # fmt: skip
STANDARDS = _in(
    "violin",
    ("standard.none", "    standard: {table: weight}\n", ""),
    ("standard.not_measured", "    cause: hurry\n", "    cause: hurry\n    standard: {low: 1, sources: [memory]}\n"),
    ("standard.table_and_limits", "standard: {table: weight}", "standard: {table: weight, high: 430}"),
    ("standard.empty", "standard: {low: 50, high: 60, sources: [memory]}", "standard: {sources: [memory]}"),
    ("standard.tolerance_alone", "standard: {target: 6, tolerance: 0.2,", "standard: {low: 5, tolerance: 0.2,"),
    ("standard.no_source", "standard: {low: 50, high: 60, sources: [memory]}", "standard: {low: 50, high: 60}"),
    ("standard.reversed", "standard: {low: 50, high: 60,", "standard: {low: 60, high: 50,"),
    ("standard.open", "high: 430, target: 400, ", ""),
    ("standard.target_outside", "high: 430, target: 400", "high: 430, target: 450"),
    ("standard.size_missing", "size: [3/4], high: 400", "size: [4/4], style: fiddle, high: 400"),
    ("standard.size_unknown", "size: [3/4], high: 400", "size: [3/4, 2/4], high: 400"),
    ("standard.double_row", "size: [3/4], high: 400", "size: [3/4, 4/4], high: 400"),
    ("standard.unit_differs", "    unit: g\n    rows", "    unit: kg\n    rows"),
    ("standard.low_confidence_fault", "confidence: medium", "confidence: low"),
    ("standard.side_never", "      meets: {say: Light enough",
     "      too_low: {say: Very light, class: acceptable}\n      meets: {say: Light enough"),
    ("standard.side_without_outcome", "      too_low: {say: Short, class: acceptable}\n", ""),
    ("standard.cannot_be_read", "at_least: 20, at_most: 90", "at_least: 70, at_most: 90"),
    ("standard.one_point", "    standard: {table: weight}", "    worth_at: {430: 1}\n    standard: {table: weight}"),
    ("standard.best_outside", "high: 430, target: 400", "high: 430, worth_at: {430: 0.5, 500: 1, 600: 0.2}"),
    ("standard.rises", "standards:\n", LENGTHS, ("high: 400, target: 370", "high: 460, target: 440")),
    ("standard.jumps", "standards:\n", LENGTHS, ("sizes: [4/4, 3/4]", "sizes: [4/4, 3/4, 1/2]"),
     ("high: 430, target: 400", "low: 370, high: 430, target: 400"),
     ("high: 400, target: 370", "high: 400, target: 347"),
     ("examples:\n", HALF + "examples:\n")),
    ("standard.surer_than_known", "standards:\n", LENGTHS,
     ("high: 430, target: 400", "low: 370, high: 430, target: 400"),
     ("high: 400, target: 370", "low: 362, high: 378, target: 370")),
)  # fmt: skip
JOBS = _in(
    "jobs",
    ("job.cures_nothing", "    service: true\n", "    if_left: It stays uneven.\n"),
    ("job.requires_circle", "    if_left: The sound", "    requires: [bridge_new]\n    if_left: The sound",
     ("forces: [{job: post_adjust, chance: 0.9, when: always}]", "requires: [post_adjust]")),
    ("job.after_circle", "    if_left: The sound", "    after: [bridge_new]\n    if_left: The sound",
     ("    shares:", "    after: [post_adjust]\n    shares:")),
    ("job.needs_and_removes", "    shares:",
     "    requires: [board_dress]\n    makes_unnecessary: [board_dress]\n    shares:"),
    ("job.needs_alternatives", "    shares:", "    requires: [post_adjust, board_dress]\n    shares:",
     ("    forces: [{job: post_adjust, chance: 0.9, when: always}]\n", ""),
     ("    service: true", "    service: true\n    choose_one: [post_adjust]"),
     ("    if_left: The sound", "    choose_one: [board_dress]\n    if_left: The sound")),
    ("job.choice_one_way", "    shares:", "    choose_one: [board_dress]\n    shares:"),
    ("job.choice_cures_other", "    shares:", "    choose_one: [post_adjust]\n    shares:",
     ("    if_left: The sound", "    choose_one: [bridge_new]\n    if_left: The sound"),
     ("violin", "few: {say: One or two, class: sound, at_most: 2}", "few: {say: One or two, class: sound, at_most: 1}"),
     ("violin", "acceptable, at_least: 3", "acceptable, at_least: 2, cured_by: [post_adjust]")),
    ("job.forces_nothing", "{job: post_adjust, chance: 0.9,", "{chance: 0.9,"),
    ("job.forces_twice", "{job: post_adjust, chance", "{job: post_adjust, one_of: [board_dress], chance"),
    ("job.forces_never", "chance: 0.9", "chance: 0"),
    ("job.requires_forced", "    shares:", "    requires: [post_adjust]\n    shares:"),
    ("job.leaves_worse", "    if_left: A bent", "    leaves: 0.3\n    if_left: A bent"),
    ("job.costs_nothing", "hours: {low: 1, likely: 1.5, high: 2}", "hours: {low: 0, likely: 0, high: 0}"),
    ("job.factor_of_stranger", "    if_left: A bent", "    family: {bow: 2}\n    if_left: A bent"),
    ("job.no_part_price", "parts: [{part: blank}]", "parts: [{part: blank, grade: select}]"),
    ("job.no_if_left", "    if_left: A bent bridge can fall.\n", ""),
    ("job.no_source", "cautions: [strings_down]\n    sources: [common]", "cautions: [strings_down]"),
    ("shared.circle", "high: 0.5}}", "high: 0.5}, includes: [glue]}\n  - {shared: glue, say: Warm the glue, "
     "hours: {low: 0, likely: 0.1, high: 0.1}, includes: [bridge_and_post_down]}"),
    ("shared.no_time", "hours: {low: 0.2, likely: 0.3, high: 0.5}}", "hours: {low: 0, likely: 0, high: 0}}"),
    ("part_price.none", "{violin: {good: {low: 8, likely: 14, high: 25}}}", "{violin: {}}"),
    ("part_price.size_unknown", "high: 25}}}\n",
     "high: 25}}}\n    by_size: [{family: violin, size: [2/4], times: 0.7}]\n"),
    ("part_price.size_empty", "high: 25}}}\n", "high: 25}}}\n    by_size: [{family: violin, size: [3/4]}]\n"),
)  # fmt: skip
_BENT = "    if_left: A bent"
_DEGREES = (
    ("violin", "      nearly: {say: A hair of light,", "      nearly: {say: A hair of light, degree: 0.1,"),
    ("violin", "    outcomes:\n      fitted", "    degree_of: gap in mm\n    outcomes:\n      fitted"),
)
_RECUT = """\
  - job: bridge_recut
    say: Recut the bridge
    plain: We lower its top.
    skill: set_up
    hours: {low: 0.2, likely: 0.3, high: 0.5}
    if_left: Strings stay high.
    sources: [common]
"""
FITTING = _in(
    "jobs",
    ("fit.cure_unfit", _BENT, "    limits: [{check: bridge_feet, at_most: 0.5}]\n" + _BENT, *_DEGREES,
     ("violin", "gaps: {say: Light under a foot,", "gaps: {say: Light under a foot, degree: 1,")),
    ("fit.limit_empty", _BENT, "    limits: [{check: bridge_feet}]\n" + _BENT),
    ("fit.limit_no_degree", _BENT, "    limits: [{check: purfling, at_most: 2}]\n" + _BENT),
    ("fit.limit_never_met", _BENT, "    limits: [{check: purfling, not_when: [inlaid, painted]}]\n" + _BENT),
    ("fit.limit_no_standard", _BENT, "    limits: [{check: bridge_feet, off_at_most: 2}]\n" + _BENT),
    ("fit.limit_outcome", _BENT, "    limits: [{check: purfling, not_when: [panted]}]\n" + _BENT),
    ("fit.leaves_outcome", _BENT, "    leaves_as: {bridge_feet: fited}\n" + _BENT),
    ("fit.degree_of_what", _BENT, _BENT, _DEGREES[0]),
    ("fit.name_unknown", _BENT, "    not_for: [makers]\n" + _BENT),
    ("fit.cheaper_leaves_more", _BENT, "    leaves: 0.8\n" + _BENT,
     ("  - job: post_adjust\n", _RECUT + "  - job: post_adjust\n"),
     ("violin", "cured_by: [bridge_new]", "cured_by: [bridge_recut, bridge_new]")),
    ("fit.nobody", _BENT, "    fit_for: [student, maker]\n    not_for: [student]\n" + _BENT),
)  # fmt: skip
# Two classes and one sign in which nothing is wrong.
MADE = """classes:
  - {making: cheap, say: Cheap, means: Made in haste., prior: {violin: 0.6}, care: -1, usual: {
      workmanship: 20, soundness: 50, playability: 50, tone: 50, authenticity: 80, resale: 40}}
  - {making: dear, say: Dear, means: Made with care., prior: {violin: 0.4}, care: 5, usual: {
      workmanship: 80, soundness: 80, playability: 70, tone: 70, authenticity: 90, resale: 80}}
sign_groups:
  - {group: edge, say: the edge, signs: {purfling: {shares: {inlaid: [0.3, 0.9], painted: [0.7, 0.1]}}}}
parts:
"""
WHOLE = _in(
    "violin",
    ("family.shares_missing", "  professional: {playability: 0.4, workmanship: 0.6}\n", ""),
    ("family.shares_sum", "student: {playability: 0.5, workmanship: 0.5}", "student: {playability: 0.5}"),
    ("family.domain_empty", "student: {playability: 0.5, workmanship: 0.5}", "student: {playability: 0.5, tone: 0.5}"),
    ("family.size_twice", "sizes: [4/4, 3/4]", "sizes: [4/4, 3/4, 4/4]"),
    ("family.part_empty", "  - {part: bridge, say", "  - {part: neck, say: The neck}\n  - {part: bridge, say"),
    ("cause.certain", "prior: 0.5}", "prior: 1}"),
    ("cause.prior_key", "prior: 0.5}", "prior: {student: 0.5}}"),
    ("cause.prior_rises", "prior: 0.5}", "prior: {cheap: 0.2, dear: 0.5}}", ("parts:\n", MADE)),
    ("cause.unused", "    cause: hurry\n", ""),
    ("caution.unused", "  - {caution: dust", "  - {caution: heat, say: Hot.}\n  - {caution: dust"),
    ("tool.unused", "  - {tool: scale",
     "  - {tool: tape, say: Tape, unit: mm, half_width: 2, step: 1}\n  - {tool: scale"),
    ("standard.unused", "standard: {table: weight}", "standard: {high: 430, sources: [memory]}"),
    ("shared.unused", "include: [jobs.yaml]", "include: [jobs.yaml]\nshared_labour:\n"
     "  - {shared: glue, say: Warm the glue, hours: {low: 0, likely: 0.1, high: 0.1}}"),
    ("part_price.unused", "include: [jobs.yaml]", "include: [jobs.yaml]\npart_prices:\n"
     "  - {part: peg, say: A peg, prices: {violin: {good: {low: 8, likely: 14, high: 25}}}}"),
    ("caution.unknown", "ask: Is the line at the edge", "ask: Under UV light, is the line at the edge"),
    ("caution.check", "how: [Hold a light behind the feet.]", "how: [Let the strings down a little.]"),
    ("example.size", "instrument: {size: 4/4}", "instrument: {size: 7/8}"),
    ("example.check", "observations: {purfling: painted}", "observations: {edge: painted}"),
    ("example.outcome", "observations: {purfling: painted}", "observations: {purfling: scribed}"),
) + _in(
    "jobs",
    ("caution.job", "    cautions: [dust]\n", ""),
    ("caution.part_price", "say: Bridge blank", "say: Bridge blank for a soundpost setter"),
)  # fmt: skip


def _made(code: str, old: str, new: str) -> Mistake:
    """A mistake in the classes and signs above, which stand before the parts."""
    assert old in MADE, old
    return Mistake(code, "violin", "parts:\n", MADE.replace(old, new, 1))


MAKING = (
    _made("class.prior_missing", "prior: {violin: 0.4}", "prior: {viola: 0.4}"),
    _made("class.prior_sum", "prior: {violin: 0.4}", "prior: {violin: 0.3}"),
    _made("class.usual_missing", "tone: 70, authenticity", "authenticity"),
    _made("class.usual_crosses", "soundness: 80", "soundness: 40"),
    _made("class.care_falls", "care: 5", "care: -2"),
    _made("sign.unknown_outcome", "painted: [0.7, 0.1]}", "painted: [0.7, 0.1], drawn: [0, 0]}"),
    _made("sign.outcome_missing", "inlaid: [0.3, 0.9], painted: [0.7, 0.1]", "inlaid: [1, 1]"),
    _made("sign.share_count", "[0.3, 0.9]", "[0.3, 0.6, 0.9]"),
    _made("sign.share_sum", "[0.3, 0.9]", "[0.3, 0.6]"),
    _made("band.none_for", "parts:", "bands: [{band: good, say: Good, at_least: 50}]\nparts:"),
    _made("band.twice", "parts:", "bands: [{band: a, say: A, at_least: 0}, {band: b, say: B, at_least: 0}]\nparts:"),
    _made("sign.twice", "parts:", "  - {group: line, say: the line, signs: {purfling: {}}}\nparts:"),
)
DRAWN = "likenesses: [{check: tuners, drawing: bridge_feet,"
LIKENESSES = _in(
    "violin",
    ("likeness.unknown_outcome", "parts:", f"{DRAWN} shows: [pink]}}]\nparts:"),
    ("likeness.twice", "parts:", f"{DRAWN} shows: [many, many]}}]\nparts:"),
    ("likeness.no_drawing", "parts:", f"{DRAWN} shows: [many]}}]\nparts:"),
)
SAFETY = _in(
    "violin",
    ("reference.seen_as", "say: Light under a foot,", "say: Light under a foot, seen_as: nearby,"),
    ("check.hides_nothing", "photos: 0.5", "photos: {there: 0.5, not_there: 0.4}"),
    ("safety.waits_for_nothing", "how: [Hold a light behind the feet.]", "how: [Tune a string up and look.]"),
    ("safety.no_caution", "how: [Hold a light behind the feet.]", "how: [Look; then press each foot.]"),
    ("safety.stop_unsaid", "say: Light under a foot,", "say: Light under a foot, means: Stop playing at once.,"),
    ("safety.stop_no_caution", "say: Light under a foot,", "say: Light under a foot, unsafe: true,"),
    ("safety.no_first_page", "    minutes: 1\n", "    minutes: 1\n    under_tension: true\n"),
)
SHOP = _in(
    "shop",
    ("shape.order", "set_up: {low: 60,", "set_up: {low: 90,"),
    ("shape.currency", "currency: USD", "currency: dollars"),
    ("shape.amount", '"30.00"', "30.005"),
    ("shape.together", "  repair: {low: 75, likely: 100, high: 140}\n", ""),
    ("shop.extends", "shop: The Corner Workshop", "shop: The Corner Workshop\nextends: other.yaml"),
    ("shop.unknown_job", "  bridge_new:", "  bridge_now:"),
    ("shop.unknown_part", "job_prices:\n  bridge_new:", "part_prices:\n  blanks:"),
    ("shop.rate_of_nothing", "set_up: {low: 60, likely: 85,", "set_up: {low: 0, likely: 0,"),
    ("shop.bench_dear", "currency: USD", "currency: USD\nbuying: {bench_cost_per_hour: 300}"),
)
# A guide for the two classes in which nothing is wrong.
PRICED = """guide:
  prices: {violin: {cheap: {low: 100, likely: 200, high: 300}, dear: {low: 1000, likely: 2000, high: 3000}}}
  sizes: {violin: {4/4: 1.0, 3/4: 0.8}}
  private_share: {cheap: {low: 0.4, likely: 0.5, high: 0.6}, dear: {low: 0.7, likely: 0.8, high: 0.9}}
  months_to_sell: {cheap: {low: 1, likely: 2, high: 3}, dear: {low: 3, likely: 6, high: 9}}
  unseen: {
    cheap: {nothing_seen: 90, seen_in_hand: 30, answered_for: 10},
    dear: {nothing_seen: 200, seen_in_hand: 90, answered_for: 30}}
  made_like: {cheap: 20, dear: 80}
  lasting: {crack: {cheap: 0.5, dear: 0.8}}
job_prices:
"""
_TWO_CLASSES = ("violin", "parts:\n", MADE)


def _priced(code: str, old: str, new: str, *also: tuple[str, ...]) -> Mistake:
    """A mistake in the guide above, for a rubric with its two classes."""
    assert old in PRICED, old
    return Mistake(code, "shop", "job_prices:\n", PRICED.replace(old, new, 1), (_TWO_CLASSES, *also))


GUIDE = (
    _priced("guide.class_missing", "cheap: 20, dear", "dear"),
    _priced("guide.class_unknown", "cheap: 20, dear: 80", "cheap: 20, dear: 80, deer: 90"),
    _priced("guide.crosses", "low: 1000", "low: 90"),
    _priced("guide.size_missing", ", 3/4: 0.8", ""),
    _priced("guide.size_unknown", ", 3/4: 0.8", ", 3/4: 0.8, 7/8: 0.9"),
    _priced("guide.matter_missing", "crack: {", "scar: {",
            ("violin", "painted: {say: A painted line,", "painted: {say: A painted line, matter: crack,")),
    _priced("guide.matter_crosses", "dear: 0.8}}", "dear: 0.04}}"),
)  # fmt: skip
WORDS = _in(
    "words",
    ("glossary.twice", "also: [sound post]", "also: [sound post, Bridge]"),
    ("glossary.no_drawing", "drawing: bridge_feet", "drawing: bridge_foot"),
    ("glossary.not_ended", "means: A stick inside.", "means: A stick inside"),
)
OWNING = _in(
    "owning",
    ("owning.hours_fall", "hours: 500", "hours: 100"),
    ("owning.wear_falls", "rehairs: 1,", "rehairs: 0.4,"),
    ("owning.grade_missing", ", professional: select", ""),
    ("owning.parts_cross", "small_part: 0.3", "small_part: 0.7"),
)
BENCH = _in(
    "bench",
    ("bench.twice", "bass side", "treble side"),
    (
        "bench.unit",
        "unit: mm, at_least: 0, at_most: 3, places: [1st",
        "unit: ell, at_least: 0, at_most: 3, places: [1st",
    ),
)
MISTAKES = (
    *FORM, *SHAPE, *FORMULAS, *LOAD, *REFERENCES, *CHECKS, *STANDARDS, *JOBS, *FITTING, *WHOLE, *MAKING, *SAFETY, *SHOP,
    *LIKENESSES, *TYPED,
    *GUIDE,
    *WORDS,
    *OWNING,
    *BENCH,
)  # fmt: skip


def spoilt(mistake: Mistake) -> dict[str, str]:
    """The files with the mistake in them."""
    files = {"violin": VIOLIN, "jobs": JOBS_FILE, "shop": SHOP_FILE, "words": WORDS_FILE}
    files |= {"owning": OWNING_FILE, "bench": BENCH_FILE}
    for edit in ((mistake.old, mistake.new), *mistake.also):
        file, old, new = edit if len(edit) == 3 else (mistake.file, *edit)
        assert old in files[file], (mistake, old)
        files[file] = files[file].replace(old, new, 1)
    return files
