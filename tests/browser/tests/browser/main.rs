//! The trials of the app in a browser.
#![allow(clippy::print_stderr, reason = "what was measured is printed")]
#![allow(clippy::panic, clippy::expect_used, clippy::unwrap_used, reason = "a trial that cannot go on has failed")]

mod alone;
mod brief;
mod cases;
mod first;
mod hand;
mod held;
mod kit;
mod looks;
mod offline;
mod plan;
mod pull;
mod rigs;
mod scene;
mod screens;
mod serve;
mod start;

use std::process::ExitCode;
use unmire_browser::Named;

/// Lists functions with their names.
macro_rules! trials {
    ($($module:ident :: $name:ident),* $(,)?) => {
        &[$((concat!(stringify!($module), "::", stringify!($name)), $module::$name)),*]
    };
}

#[rustfmt::skip]
const ALL: &[Named] = trials![
    start::regress_the_page_opens_and_names_the_app,
    start::regress_manifest_and_service_worker_are_there,
    start::regress_it_is_ready_soon,
    plan::regress_a_given_rig_is_judged_at_once,
    plan::regress_every_example_gives_the_bytes_of_the_command_line,
    plan::regress_the_worker_says_what_is_wrong,
    cases::regress_an_example_is_planned_and_shown,
    cases::regress_files_are_opened,
    cases::regress_a_broken_case_is_mended,
    cases::regress_a_rig_is_taken_into_the_case,
    cases::regress_cases_stay_on_the_device,
    first::regress_the_gate_comes_first,
    first::regress_ten_questions_make_a_first_rig,
    first::regress_a_bad_answer_is_told_at_its_field,
    first::regress_the_first_minute_needs_no_pointer,
    scene::regress_a_dragged_anchor_changes_the_tensions,
    scene::regress_an_anchor_is_moved_without_a_drag,
    scene::regress_bad_numbers_are_told_at_their_field,
    scene::regress_anchors_come_and_go,
    held::regress_a_rig_goes_from_holds_to_overloaded_while_it_is_dragged,
    held::regress_what_is_painted_is_what_is_drawn,
    held::regress_what_is_held_stays_under_the_finger_though_the_page_was_scrolled,
    held::regress_a_drag_that_is_cut_short_leaves_the_scene_whole,
    scene::regress_the_vehicle_is_moved_by_drag_and_by_steps,
    scene::regress_a_block_is_hung_elsewhere,
    scene::regress_helpers_and_obstacles_come_and_go,
    scene::regress_paces_bearings_and_the_device,
    scene::regress_the_ground_to_keep_clear_is_drawn,
    scene::regress_the_compass_of_the_device,
    scene::regress_the_scene_is_accessible,
    kit::regress_a_label_is_taken_in_any_unit,
    kit::regress_a_doubtful_label_is_asked_back,
    kit::regress_a_missing_label_never_passes,
    kit::regress_a_wrong_field_says_so_beside_itself,
    kit::regress_bags_are_kept_and_brought_in,
    kit::regress_a_piece_needs_no_pointer,
    rigs::regress_the_chosen_rig_is_drawn_and_told,
    rigs::regress_two_rigs_are_compared,
    rigs::regress_a_number_opens_its_working,
    rigs::regress_open_workings_fit_a_phone,
    pull::regress_a_pull_is_played_and_looked_at,
    brief::regress_the_brief_says_what_to_do,
    brief::regress_the_brief_prints_on_one_page,
    hand::regress_codes_carry_a_case_without_a_network,
    hand::regress_wrong_codes_are_told,
    hand::regress_a_camera_takes_the_codes,
    hand::regress_the_file_is_the_one_that_the_program_reads,
    looks::regress_the_page_speaks_german,
    looks::regress_every_look_is_legible,
    looks::regress_large_text_and_large_targets,
    looks::regress_still_for_who_wants_no_motion,
    looks::regress_keys_alone_are_enough,
    alone::regress_nobody_else_is_asked_for_anything,
    offline::regress_it_opens_and_plans_without_a_network,
    offline::regress_a_new_version_waits_for_the_reader,
    serve::regress_files_come_with_their_guards,
    serve::regress_a_taken_port_is_said,
    serve::regress_ctrl_c_ends_it_cleanly,
];

/// What is done where somebody wants pictures of the screens.
const PICTURES: &[Named] = trials![screens::first_minute, screens::planned_case, screens::looks];

fn main() -> ExitCode {
    unmire_browser::run(if std::env::var_os(screens::FOLDER).is_some() { PICTURES } else { ALL })
}
