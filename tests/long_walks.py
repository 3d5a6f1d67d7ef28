"""Tests that are walked before a release and not at every run: the dear ones whose main path the usual run has anyway.

A name alone means every case of the test; with a text after ``[`` only the cases whose name begins so; a text after ``[`` alone
the cases of any test that hold it; ``*`` the whole file.
"""

LONG = {
    "stations/test_new_card.py": (
        "test_an_odometer_that_runs_backwards_is_asked_about",
        "test_the_desk_and_the_closing_check_ask_about_it_too",
        "test_only_jobs_that_fit_are_offered",
        "test_esc_keeps_the_form_and_offers_it_again",
        "test_enter_on_an_empty_sheet_takes_no_sheet",
        "test_a_refusal_keeps_what_is_typed_and_saving_again_goes_on",
        "test_keys_in_one_burst_land_in_the_right_fields",
        "test_a_car_that_changed_hands_brings_its_owner",
        "test_what_is_missing_is_said_and_nothing_is_saved",
        "test_the_first_card_of_an_empty_shop",
        "test_a_refusal_finds_its_field",
        "test_each_act_is_done_once",
    ),
    "stations/test_intake.py": ("test_a_card_opened_in_the_last_moment_is_not_opened_twice",),
    "stations/test_carried_over.py": (
        "test_a_no_is_written_down_with_who_said_it",
        "test_it_stands_there_before_the_card_is_saved",
        "test_a_car_that_brings_nothing_is_not_asked_about",
        "test_f3_opens_it_at_any_time_and_what_is_not_due_says_so",
        "test_text_of_people_stays_text",
        "test_esc_goes_back_to_the_form_and_keeps_what_was_decided",
        "test_what_another_terminal_settled_meanwhile_is_said_in_the_form",
    ),
    "stations/test_sheets.py": (
        "test_history_and_withdrawal",
        "test_hostile_text_in_every_field_harms_nothing[everything",
        "test_a_number_is_confirmed_with_its_page",
        "test_hostile_text_in_every_field_harms_nothing[wide",
        "test_hostile_text_in_every_field_harms_nothing[endless",
        "test_three_numbers_in_one_burst_land_where_they_were_meant",
        "test_a_bare_figure_counts_in_the_unit_typed_last_but_is_never_guessed",
        "test_one_key_opens_the_numbers_of_the_car_in_hand[desk",
        "test_a_wrong_fact_stays_in_its_field",
        "test_wrong_figures_stay_in_the_field_with_the_way_out",
        "test_an_empty_number_is_passed_over_and_arrows_move",
        "test_what_speaks_against_a_number_is_shown_with_both_sources",
        "test_a_new_number_and_one_known_elsewhere_are_added",
        "test_a_shipped_sheet_says_it_stays_as_it_is",
        "test_practice_of_an_own_sheet_judges_nothing_at_the_bench_until_confirmed",
        "test_one_key_opens_the_numbers_of_the_car_in_hand",
    ),
    "stations/test_order_screen.py": ("*",),
    "stations/test_stores.py": (
        "test_the_pages[shelf-200",
        "test_the_pages[purchases-200",
        "test_a_line_is_taken_off_the_draft",
        "test_all_of_one_supplier_goes_on_one_order_and_one_thing_elsewhere",
        "test_five_thousand_parts_are_drawn_where_they_are_seen_only",
        "test_odd_names_are_shown_not_obeyed",
    ),
    "stations/test_keys_and_finder.py": ("test_the_palette_shows_what_people_typed",),
    "stations/test_handing.py": ("test_more_than_is_due_is_asked_about_and_a_slip_is_typed_again",),
    "stations/test_bench_readings.py": (
        "test_the_document_is_remembered",
        "test_low_and_high_are_typed_as_printed",
        "test_valves_are_typed_one_after_the_other[size1",
    ),
    "cli/test_cli_own_templates.py": (
        "test_without_a_folder_the_way_is_said",
        "test_a_job_of_the_program_is_copied_to_be_had_our_way",
        "test_ours_is_not_touched_and_what_lies_over_it_is_used",
        "test_one_file_or_a_folder_is_checked_with_line_and_remedy",
    ),
    "papers/test_summary_paper.py": ("test_hostile_text_stays_text[14", "test_hostile_text_stays_text[15"),
    "terminal/test_photo.py": ("test_a_photo_is_shown_and_the_keys_work_on",),
    "store/test_concurrent.py": ("test_four_processes_number_their_cards_without_gap_or_double",),
    "store/test_demo.py": ("test_the_same_morning_gives_the_same_shop",),
    "store/test_demo_place.py": (
        "test_what_makes_no_sense_in_the_stores_is_named",
        "test_a_line_that_makes_no_sense_is_named",
    ),
    "store/test_issuing.py": ("test_terminals_issue_at_once[file",),
    "stations/test_workings_panel.py": ("*",),
    "stations/test_sheets_pictures.py": ("*",),
    "stations/test_photos_screen.py": ("*",),
    "stations/test_scanning.py": ("*",),
    "stations/test_snapshots.py": (
        "test_new_card[120x40",
        "test_order_of_work_refused",
        "test_from_earlier_visits",
        "test_bench_barred",
    ),
    "worklists/test_planner_shipped.py": (
        "test_the_full_service_from_any_start",
        "test_each_shipped_job_can_be_done_as_planned[demo-brindle",
        "test_each_shipped_job_can_be_done_as_planned[demo-corvane",
        "test_each_shipped_job_can_be_done_as_planned[demo-hallam",
    ),
    "worklists/test_library_whole.py": (
        "test_any_two_jobs_stand_on_one_card[side-valve",
        "test_any_two_jobs_stand_on_one_card[demo-brindle",
        "test_any_two_jobs_stand_on_one_card[demo-lark",
    ),
    "units/test_convert_working.py": (
        "test_every_unit_goes_into_every_other_of_its_kind_and_back",
        "test_no_text_brings_anything_but_a_refusal",
    ),
    "stations/test_looking_back.py": (
        "test_a_time_is_split_and_added",
        "test_esc_leaves_everything",
        "test_u_again_goes_further_back",
        "test_esc_leaves_the_clock_and_asks_again_later",
        "test_days_and_people",
        "test_somebody_elses_time_is_refused_in_words",
        "test_nothing_is_offered_on_the_same_day_or_to_a_stranger",
        "test_the_desk_looks_and_goes_on_at_the_bench",
    ),
    "stations/test_signing.py": ("test_who_signs_the_second_check_types_their_pin",),
    "stations/test_people_screen.py": (
        "test_an_owner_sets_a_forgotten_one_and_who_leaves_stands_here_no_longer",
        "test_the_page[120x40",
        "test_the_shut_door[list",
    ),
    "stations/test_bench_parts.py": (
        "test_the_keys_are_in_sight_again_when_a_box_closes",
        "test_a_part_not_from_stock_instead",
        "test_another_part_instead_with_the_reason",
        "test_a_refusal_stays_and_the_list_comes_back",
        "test_a_part_the_customer_brought_is_put_on",
        "test_esc_changes_nothing",
    ),
    "cli/test_cli_order.py": ("test_move_from_where_it_stands_now",),
    "shop/test_one_forecast.py": ("test_before_and_on_the_card_the_same[True",),
    "store/whole/test_written.py": (
        "test_spoilt_lines_leave_nothing_behind[another_price",
        "test_spoilt_lines_leave_nothing_behind[without_a_row",
    ),
    "stations/test_never_on_screen.py": ("test_who_did_the_work_or_left_the_shop_signs_no_second_check",),
    "stations/test_bench_acts.py": (
        "test_esc_does_not_take_what_is_typed_of_a_finding",
        "test_a_finding_names_the_job_that_would_mend_it",
        "test_a_part_on_order_or_not_used",
    ),
    "stations/test_ahead_screen.py": (
        "test_from_the_form_of_a_new_card_and_back_to_it",
        "test_a_no_is_noted_with_its_words_and_a_question_that_is_left_notes_nothing",
        "test_another_day_is_looked_at_before_it_is_promised",
        "test_jobs_that_are_only_asked_about",
    ),
    "stations/test_ringing.py": ("test_esc_notes_nothing_and_other_keys_neither",),
    "stations/test_card_shown.py": ("test_a_check_left_for_the_bench_is_not_what_the_desk_shows_next",),
    "stations/test_bench_tools.py": ("test_the_bench_sheet_is_written_from_the_bench",),
    "cli/test_cli_carried.py": ("test_an_open_card_takes_on_what_was_left",),
    "stations/test_bench_grid.py": (
        "[120x40",
        "test_what_was_found_stands_below_what_is_left",
        "test_in_plain_characters_band_and_outside_stay_apart",
        "test_arrows_move_between_cells_and_take_the_typing_along",
    ),
}
LARGEST_PICTURE = "200x50"  # pictures of the usual run are those of the two smaller terminals


def is_long(path: str, name: str) -> bool:
    """Whether a test belongs to the walks; `path` is below the folder of the tests.

    Examples
    --------
    >>> is_long("store/test_demo.py", "test_the_same_morning_gives_the_same_shop")
    True
    >>> is_long("stations/test_bench.py", "test_bench[200x50]"), is_long("stations/test_bench.py", "test_bench[80x24]")
    (True, False)
    """
    bare = name.split("[", 1)[0]
    return LARGEST_PICTURE in name.partition("[")[2] or any(
        _means(told, bare, name) for told in LONG.get(path, ())
    )


def _means(told: str, bare: str, name: str) -> bool:
    if told.startswith("["):
        return told[1:] in name
    return name.startswith(told) if "[" in told else told in {bare, "*"}
