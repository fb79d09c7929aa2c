"""A small rubric in which nothing is wrong, to be spoilt line by line, and a way to write it into a folder."""

from pathlib import Path

VIOLIN = """\
rubric: violin
version: "1"
title: Violin
family: violin
include: [jobs.yaml]
sizes: [4/4, 3/4]
domain_shares:
  student: {playability: 0.5, workmanship: 0.5}
  intermediate: {playability: 0.5, workmanship: 0.5}
  professional: {playability: 0.4, workmanship: 0.6}
parts:
  - {part: whole, say: The whole violin}
  - {part: bridge, say: The bridge}
causes:
  - {cause: hurry, say: corners were cut, if_not: it was made with care, about: made_in, prior: 0.5}
cautions:
  - {caution: strings_down, say: Never let all the strings down., demanded_by: [soundpost setter]}
  - {caution: dust, say: Wear a mask.}
sources: {common: "common practice, no source", memory: from memory}
tools:
  - {tool: rule, say: Steel rule, unit: mm, half_width: 0.5, step: 0.5}
  - {tool: scale, say: Kitchen scale, unit: g, half_width: 5, step: 5}
checks:
  - check: bridge_feet
    part: bridge
    ask: Do the feet of the bridge touch the top everywhere?
    how: [Hold a light behind the feet.]
    minutes: 1
    seen_by: {in_person: 0.9, photos: 0.5}
    evidence_of: {playability: 2}
    outcomes:
      fitted: {say: No light shows, class: sound}
      nearly: {say: A hair of light, class: acceptable, worth: 0.7}
      gaps: {say: Light under a foot, class: fault, worth: 0.3, cured_by: [bridge_new]}
    sources: [common]
  - check: purfling
    part: whole
    ask: Is the line at the edge inlaid or painted?
    how: [Look where it crosses a worn edge.]
    evidence_of: {workmanship: 3}
    cause: hurry
    outcomes:
      inlaid: {say: Three strips of wood, class: sound}
      painted: {say: A painted line, class: fault, inherent: true}
    sources: [common]
  - check: weight
    part: whole
    ask: What does it weigh?
    how: [Lay it on a folded cloth on the scale.]
    measure: {quantity: mass, unit: g, tools: [scale], at_least: 200, at_most: 900}
    evidence_of: {workmanship: 1}
    standard: {table: weight}
    outcomes:
      meets: {say: Light enough, class: sound}
      too_high: {say: Heavy, class: fault, inherent: true}
  - check: string_length
    part: whole
    ask: How long are the strings, from nut to bridge?
    how: [Lay the rule beside the second string.]
    measure: {quantity: length, unit: mm, tools: [rule], at_least: 150, at_most: 400}
    evidence_of: {playability: 1}
    standard: {target: 328, tolerance: 4, sources: [memory]}
    outcomes:
      too_low: {say: Short, class: acceptable}
      meets: {say: As usual, class: sound}
      too_high: {say: Long, class: acceptable}
  - check: afterlength
    part: bridge
    ask: How long are the strings behind the bridge?
    how: [Lay the rule beside the second string.]
    measure: {quantity: length, unit: mm, tools: [rule], at_least: 20, at_most: 90}
    evidence_of: {playability: 1}
    standard: {low: 50, high: 60, sources: [memory]}
    outcomes:
      too_low: {say: Short, class: acceptable}
      meets: {say: A sixth of the strings, class: sound}
      too_high: {say: Long, class: acceptable}
  - check: ratio
    part: bridge
    ask: How many times does the afterlength go into the strings?
    formula: string_length / afterlength
    unit: ratio
    evidence_of: {playability: 1}
    standard: {target: 6, tolerance: 0.2, sources: [memory]}
    outcomes:
      too_low: {say: The tail gut is short, class: acceptable}
      meets: {say: Six times, class: sound}
      too_high: {say: The tail gut is long, class: acceptable}
  - check: tuners
    part: bridge
    ask: How many fine tuners are there?
    how: [Count them.]
    count: {of: fine tuners, at_most: 4}
    evidence_of: {playability: 1}
    relevant_if: style == "classical" and bridge_feet != "gaps"
    outcomes:
      few: {say: One or two, class: sound, at_most: 2}
      many: {say: Three or four, class: acceptable, at_least: 3}
    sources: [common]
standards:
  - standard: weight
    say: Weight without chin rest
    unit: g
    rows:
      - {family: violin, size: [4/4], high: 430, target: 400, confidence: medium, sources: [common]}
      - {family: violin, size: [3/4], high: 400, target: 370, confidence: low, sources: [memory]}
examples:
  - example: painted
    say: A painted line makes the student look on.
    instrument: {size: 4/4}
    observations: {purfling: painted}
    expect: {advice: walk_away}
"""

JOBS = """\
part_prices:
  - part: blank
    say: Bridge blank
    prices: {violin: {good: {low: 8, likely: 14, high: 25}}}
shared_labour:
  - {shared: bridge_and_post_down, say: Strings and bridge down and up, hours: {low: 0.2, likely: 0.3, high: 0.5}}
jobs:
  - job: bridge_new
    say: Fit a new bridge
    plain: We carve a bridge so that its feet match your violin.
    skill: set_up
    hours: {low: 0.8, likely: 1.3, high: 2.2}
    parts: [{part: blank}]
    shares: [bridge_and_post_down]
    forces: [{job: post_adjust, chance: 0.9, when: always}]
    if_left: A bent bridge can fall.
    cautions: [strings_down]
    sources: [common]
  - job: post_adjust
    say: Adjust the soundpost
    plain: We stand the post where it belongs.
    skill: set_up
    hours: {low: 0.2, likely: 0.3, high: 0.5}
    if_left: The sound stays dull.
    sources: [common]
  - job: board_dress
    say: Dress the fingerboard
    plain: We plane the ebony true.
    skill: set_up
    hours: {low: 1, likely: 1.5, high: 2}
    service: true
    cautions: [dust]
    sources: [common]
"""

SHOP = """\
shop: The Corner Workshop
currency: USD
rates:
  set_up: {low: 60, likely: 85, high: 120}
  repair: {low: 75, likely: 100, high: 140}
  restoration: {low: 85, likely: 120, high: 180}
job_prices:
  bridge_new: {low: 90, likely: 110, high: 140}
minimum_charge: "30.00"
"""


WORDS = """\
glossary:
  - term: bridge
    means: It holds the strings up.
    drawing: bridge_feet
  - term: soundpost
    means: A stick inside.
    also: [sound post]
    everyday: [post]
"""


OWNING = """\
habits:
  years:
    - {hours: 150, string_sets: 1, rehairs: 0.5, light_services: 2, full_services: 0.2}
    - {hours: 500, string_sets: 2, rehairs: 1, light_services: 1, full_services: 1}
  strings: {student: plain, intermediate: good, professional: select}
  sources: [from memory]
  confidence: low
repairing: {small_part: 0.3, large_part: 0.6, unknown: 0.1, sources: [from memory], confidence: low}
renting: {months: 24, rent: 25, care: 5, credit_share: 0.5, price: 900, resale_share: 0.4, promised_share: 1,
  sources: [from memory], confidence: low}
"""
BENCH = """\
bench:
  - {measure: scoop, say: The scoop, how: With a rule., unit: mm, at_least: 0, at_most: 3, places: [treble side,
    bass side], families: [violin]}
  - {measure: groove, say: The grooves, how: With a gauge., unit: mm, at_least: 0, at_most: 3, places: [1st string],
    families: [violin]}
"""

# What two checks of before became, for files that hold answers by their names.
RENAMED = """
renamed:
  - was: feet_by_light
    now: bridge_feet
    outcomes: {dark: fitted, light: gaps}
    why: it was asked twice.
  - was: weight_by_scale
    now: bridge_feet
    measure: {quantity: mass, unit: g, tools: [scale]}
    standard: {table: weight}
    outcomes: {meets: fitted, too_high: gaps}
    why: it was measured, and is now judged by eye.
  - was: tuner_number
    now: tuners
    numbers: {0: few, 3: many}
    why: it was counted twice.
  - was: feet_and_tuners
    now: bridge_feet
    outcomes: {good: fitted + tuners.few, light: gaps, many: tuners.many}
    why: it asked two things at once.
  - was: label_colour
    why: it told nothing.
  - was: purfling
    outcomes: {scribbled: painted, cast: bridge_feet.gaps}
    why: nobody could tell them apart.
"""


def write_rubrics(
    folder: Path,
    violin: str = VIOLIN,
    jobs: str = JOBS,
    shop: str = SHOP,
    words: str = WORDS,
    owning: str = OWNING,
    bench: str = BENCH,
) -> Path:
    """A folder `rubrics` with a violin, its jobs, a shop, a glossary, what an owner meets and what the bench measures;
    gives its path.
    """
    root = folder / "rubrics"
    (root / "families").mkdir(parents=True)
    (root / "families" / "violin.yaml").write_text(violin, encoding="utf-8")
    (root / "jobs.yaml").write_text(jobs, encoding="utf-8")
    (root / "shop.yaml").write_text(shop, encoding="utf-8")
    (root / "glossary.yaml").write_text(words, encoding="utf-8")
    (root / "owning.yaml").write_text(owning, encoding="utf-8")
    (root / "bench.yaml").write_text(bench, encoding="utf-8")
    return root
