"""The names of all drawings, to be known without loading a pen: reading a rubric asks for no more.

A test holds that the registry has a drawing of each name, and no other.
"""

_LISTED = """
action action_high action_low afterlength arching arching_made back_cracks bass_bar bass_bar_crack board_camber
board_edge board_hollow board_joint board_material board_projection board_undercut board_wear board_width
body_length body_stop bow_balance bow_camber bow_camber_gap bow_frog_fit bow_grip bow_hair bow_hair_width
bow_handle bow_handwork bow_head bow_length bow_mountings bow_nose bow_parts bow_scorch bow_screw bow_stamp
bow_stick_crack bow_stick_kind bow_stiffness bow_straightness bow_tip_plate bow_weight bridge_arch bridge_carved
bridge_feet bridge_figure bridge_height bridge_legs bridge_notches bridge_parchment bridge_position
bridge_radius bridge_spacing bridge_spread bridge_stance bridge_taper bridge_thickness bridge_warp buzz_places
carved_plate case_fit centre_joint chin_rest_clamp cleats corner_blocks corner_wear edge_overhang edge_work
end_blocks end_button endpin flame heel_finish inside_work ivory_or_not label linings lower_bout neck_aim
neck_break neck_button neck_heel neck_shape neck_stop neck_straight neck_thick_first neck_thick_heel nut_card
nut_high nut_low nut_notches nut_spacing open_seam opened_before outline_halves overstand peg_end peg_fit
peg_hole peg_string_run peg_windings pegbox_crack photo_set plate_thickness post_crack_back post_crack_top
post_fit post_position post_standing post_tension post_upright projection purfling purfling_corner
repair_quality rib_bulge rib_corners rib_cracks rib_height saddle_crack saddle_fit scroll_carving scroll_damage
scroll_graft solid_wood sound_holes stop_ratio string_cores string_fifth string_length string_line
string_winding tail_cord tailpiece_kinds top_cracks top_grain tuner_count tuner_touches uv_glow varnish_coat
varnish_cracks varnish_layers varnish_wear varnish_work weighing wing_crack woods_alike woodworm
"""
NAMES: frozenset[str] = frozenset(_LISTED.split())
