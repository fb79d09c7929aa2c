"""Which faults a drawing shows: the drawing that fits what was found, and none where it would show something else.

A check's drawing helps to look; its wrong side may show the opposite of what was found ("too flat" beside a bridge that
is too round). Here stands, for each check that work can cure, the drawing whose wrong side is the fault, and for which
outcomes it is. Where a measured check has a drawing that only says where to measure, it is the one of its kind that
shows the fault. Judged from memory, against the drawings and the outcomes side by side.
"""

from collections.abc import Mapping

from ...drawings.geometry.model import Drawing, Panel

LIKENESS: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "bridge_legs": ("bridge_legs", ("spread",)),
    "end_blocks": ("end_blocks", ("loose",)),
    "opened_before": ("opened_before", ("badly",)),
    "string_alignment": ("string_line", ("tail_off",)),
    "fingerboard_material": ("board_material", ("dyed_pale",)),
    "fingerboard_end": ("board_undercut", ("blunt",)),
    "fingerboard_wear": ("board_wear", ("felt", "deep")),
    "fingerboard_hollow": ("board_hollow", ("flat",)),
    "fingerboard_camber": ("board_camber", ("flat_or_lopsided",)),
    "fingerboard_glue_joint": ("board_joint", ("opens", "loose")),
    "fingerboard_projection": ("board_projection", ("low", "stunted")),
    "projection": ("board_projection", ("too_low",)),
    "action_feel": ("action", ("high",)),
    "action_low": ("action", ("too_high",)),
    "action_high": ("action", ("too_high",)),
    "neck_heel_joint": ("neck_heel", ("gap", "moves")),
    "button_integrity": ("neck_button", ("cracked",)),
    "neck_break_repair": ("neck_break", ("pinned",)),
    "neck_alignment": ("neck_aim", ("crooked",)),
    "neck_straight": ("neck_straight", ("bowed",)),
    "neck_shape": ("neck_shape", ("clubby",)),
    "peg_function": ("peg_fit", ("slips",)),
    "peg_end_protrusion": ("peg_end", ("far_out",)),
    "peg_taper_fit": ("peg_fit", ("one_wall",)),
    "peg_wear_bushings": ("peg_hole", ("worn", "one_worn")),
    "string_run_pegbox": ("peg_string_run", ("rubs",)),
    "pegbox_crack": ("pegbox_crack", ("hairline", "split")),
    "nut_notches": ("nut_notches", ("pinching", "worn", "soft_or_misplaced")),
    "nut_height": ("nut_card", ("high",)),
    "nut_height_high": ("nut_card", ("too_high",)),
    "nut_height_low": ("nut_card", ("too_high",)),
    "scroll_damage": ("scroll_damage", ("chipped", "broken")),
    "bridge_stance": ("bridge_stance", ("leaning",)),
    "bridge_fitted_feet": ("bridge_feet", ("hair_of_light", "gaps", "dented_top")),
    "bridge_warp": ("bridge_warp", ("slight", "bent")),
    "bridge_carved": ("bridge_carved", ("boxy",)),
    "bridge_thickness": ("bridge_taper", ("thickish", "slab")),
    "bridge_thickness_top": ("bridge_taper", ("too_high",)),
    "bridge_position": ("bridge_position", ("moved",)),
    "bridge_notches": ("bridge_notches", ("buried",)),
    "bridge_parchment": ("bridge_parchment", ("bare", "cut_in")),
    "bridge_arch": ("bridge_arch", ("flat_even", "too_flat")),
    "bridge_radius": ("bridge_arch", ("too_high",)),
    "bridge_string_spacing": ("bridge_spread", ("uneven",)),
    "soundpost_standing": ("post_standing", ("fallen", "fallen_under_load")),
    "soundpost_upright": ("post_upright", ("slight_lean", "leaning")),
    "soundpost_position": ("post_position", ("far_back", "towards_middle")),
    "soundpost_fit": ("post_fit", ("small_gap", "on_edge")),
    "soundpost_tension": ("post_tension", ("raised",)),
    "soundpost_crack_top": ("post_crack_top", ("open_short", "open_long")),
    "soundpost_crack_back": ("post_crack_back", ("open",)),
    "tailgut": ("tail_cord", ("long",)),
    "afterlength": ("tail_cord", ("too_low",)),
    "fine_tuner_mass": ("tuner_touches", ("touching_top",)),
    "saddle_fit": ("saddle_fit", ("tight",)),
    "saddle_crack": ("saddle_crack", ("short", "long")),
    "end_button": ("end_button", ("pulling",)),
    "chinrest_clamp": ("chin_rest_clamp", ("open_seam", "crushed")),
    "string_age": ("string_winding", ("damaged",)),
    "edge_corner_wear": ("corner_wear", ("corner_missing", "deep")),
    "centre_joint": ("centre_joint", ("open",)),
    "varnish_crackle": ("varnish_cracks", ("flaking",)),
    "open_seams": ("open_seam", ("one_short", "several", "many")),
    "rib_crack": ("rib_cracks", ("open", "several")),
    "rib_deformation": ("rib_bulge", ("bulge",)),
    "linings": ("linings", ("some_missing",)),
    "bass_bar_type": ("bass_bar", ("carved_in_old", "carved_in_new")),
    "bass_bar_crack": ("bass_bar_crack", ("crack_and_sunk",)),
    "top_crack": ("top_cracks", ("one_open", "open_long")),
    "wing_crack": ("wing_crack", ("open",)),
    "back_crack": ("back_cracks", ("open", "several")),
    "arching_distortion": ("arching", ("sunk_bass",)),
    "earlier_repair_quality": ("repair_quality", ("hard_glue",)),
    "cleats_and_patches": ("cleats", ("rough",)),
    "worm_damage": ("woodworm", ("structural", "live")),
    "buzz_rattle": ("open_seam", ("seam",)),
    "cello_endpin": ("endpin", ("worn_tip", "slips", "bent_or_short")),
    "bow_straightness": ("bow_straightness", ("swings_tight",)),
    "bow_camber": ("bow_camber", ("flat",)),
    "bow_camber_gap": ("bow_camber", ("too_high",)),
    "bow_head_crack": ("bow_head", ("hairline",)),
    "bow_tip_plate": ("bow_tip_plate", ("cracked",)),
    "bow_frog_fit": ("bow_frog_fit", ("rocks",)),
    "bow_screw_eyelet": ("bow_screw", ("no_travel",)),
    "bow_handle_wear": ("bow_handle", ("hollow", "cracked")),
    "bow_leather": ("bow_grip", ("missing",)),
    "bow_winding": ("bow_grip", ("missing",)),
    "bow_hair": ("bow_hair", ("due", "one_side")),
    "bow_hair_width": ("bow_hair", ("too_low",)),
    # Worn as by hand or by design: neither side is a fault that work cures.
    "varnish_wear": ("varnish_wear", ()),
    # Right are real blocks, wrong none at all; thin slips are a third thing.
    "corner_blocks": ("corner_blocks", ()),
}


def likeness(drawings: Mapping[str, Drawing], check: str, outcome: str, own: str) -> Drawing | None:
    """The drawing that shows this outcome; a check that is not in the table has its `own` one, if it has a wrong side.

    So a shop's own check is drawn as it asks for; a drawing that only says where to measure is for its card alone.
    """
    if check in LIKENESS:
        name, outcomes = LIKENESS[check]
        return drawings[name] if outcome in outcomes else None
    drawing = drawings.get(own)
    return drawing if drawing and any(panel.judged == "wrong" for panel in drawing.panels) else None


def panels_of(drawing: Drawing) -> tuple[Panel, ...]:
    """What to print: right (else what to look for) beside wrong; the first panel where nothing is wrong on any."""
    wrong = next((panel for panel in drawing.panels if panel.judged == "wrong"), None)
    if wrong is None:
        return drawing.panels[:1]
    beside = next((panel for judged in ("right", None) for panel in drawing.panels if panel.judged == judged), None)
    return (wrong,) if beside is None else (beside, wrong)
