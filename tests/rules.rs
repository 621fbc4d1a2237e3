//! What an author sees for each mistake, and what is no mistake.
//!
//! `tests/bad/<code>/<case>/` and `tests/near/<code>/<case>/` hold only what differs from the collection in `tests/good/orrin`.
//! `TELLMARK_UPDATE=1 cargo test --test rules` writes every `expected.txt` anew: read the diff as an author would.

mod fixture;

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use fixture::{assert_golden, check, files_under, lay, shown};
use tellmark::diagnostic::{Code, Diagnostic};

macro_rules! cases {
    ($driver:ident($all:ident): $($case:literal $name:ident)*) => {
        const $all: &[&str] = &[$($case),*];
        $(#[test] fn $name() { $driver($case) })*
    };
}

cases! { check_bad(BAD):
    "ambiguous-reference/tail-of-two-ids" a_name_that_two_entries_end_in_is_shown_with_both
    "bad-id/file-with-capitals" a_file_name_with_capitals_is_no_id
    "bad-id/file-with-dots" a_file_name_with_dots_is_no_id
    "bad-id/folder-with-a-blank" a_folder_name_with_a_blank_is_no_id
    "bad-id/part-of-an-entry" the_name_of_a_diagnostic_is_an_id_too
    "bad-id/source-key" the_key_of_a_source_is_an_id_too
    "bad-id/toml-twice" a_file_ending_in_toml_twice_is_not_taken_for_another
    "bad-value/basis-is-a-guess" a_basis_is_common_practice_or_citations
    "bad-value/empty-prose" prose_says_something
    "bad-value/expectations" an_expectation_is_a_known_word_or_a_count_or_a_range
    "bad-value/figures" a_figure_shows_forms_that_can_be_drawn
    "bad-value/figures-with-numbers" a_figure_has_numbers_that_can_be_drawn
    "bad-value/measured-against" a_tilt_and_an_offset_say_what_they_are_against
    "bad-value/landmarks-that-cannot-be-drawn" a_landmark_has_what_its_kind_needs
    "bad-value/no-pieces" a_mintage_is_above_nothing
    "bad-value/private-without-a-file" only_a_file_can_be_private
    "bad-value/rows" a_row_is_a_year_a_mark_and_pieces
    "bad-value/units-and-symbols" units_metals_and_axes_are_known_words
    "bad-value/weights-and-metals" a_weight_is_one_thing_and_an_alloy_adds_up
    "bad-value/year-of-two-digits" a_year_has_four_digits
    "bad-value/years-the-wrong-way-round" a_period_begins_before_it_ends
    "basis-missing/empty-list" an_empty_list_is_no_basis
    "basis-missing/one-of-each" every_sort_of_statement_needs_a_basis
    "basis-missing/statement" a_statement_without_a_basis_is_shown_at_its_header
    "citation-without-place/blank-place" a_blank_place_is_no_place
    "citation-without-place/no-place" a_citation_says_where_in_the_source
    "count-not-read/cited-from-memory" a_count_from_memory_does_not_stand
    "count-not-read/common-practice" a_count_is_not_common_practice
    "dangling-reference/each-key" a_family_or_relation_that_is_not_there_is_named
    "dangling-reference/family-to-method" a_family_names_methods_and_series_that_exist
    "dangling-reference/host" a_host_is_a_row_or_an_issue
    "dangling-reference/link-in-prose" a_link_in_prose_leads_to_an_entry
    "dangling-reference/misspelt-id" a_misspelt_reference_is_shown_with_the_closest_entry
    "dangling-reference/series" a_misspelt_series_is_shown_with_the_closest
    "dangling-reference/stranger" a_reference_like_no_entry_gets_no_wild_guess
    "dangling-reference/what-a-photo-shows" a_photo_shows_checks_or_diagnostics_of_its_entry
    "duplicate-id/check" two_checks_do_not_share_an_id
    "duplicate-id/diagnostic" two_diagnostics_do_not_share_an_id
    "duplicate-id/photo" two_photos_do_not_share_an_id
    "duplicate-id/row-of-a-series" a_series_lists_a_row_once
    "duplicate-id/two-collections" a_later_collection_does_not_replace_an_entry_in_silence
    "duplicate-id/two-entries-for-one-row" a_row_has_one_entry
    "forbidden-link/address-in-angle-brackets" an_address_in_angle_brackets_is_a_link_too
    "forbidden-link/by-reference" a_link_by_reference_is_a_link_too
    "forbidden-link/javascript" a_link_does_not_run_scripts
    "forbidden-link/picture" prose_holds_no_pictures
    "forbidden-link/remote" a_link_does_not_leave_the_site
    "forbidden-link/without-scheme" a_link_does_not_climb_out_or_open_mail
    "host-impossible/another-pattern" a_host_fits_its_alteration
    "host-impossible/never-struck" a_host_was_struck
    "host-impossible/the-issue-itself" an_issue_is_not_its_own_host
    "impossible-count/more-than-all" a_count_is_not_above_all
    "impossible-count/of-none" a_count_is_of_something
    "impossible-place/half-a-place" a_place_has_a_face_and_both_numbers
    "impossible-place/landmark-off-the-coin" a_landmark_is_on_the_coin
    "impossible-place/lines-and-areas" a_line_or_an_area_is_on_one_face_by_itself
    "impossible-place/off-the-coin" a_place_is_on_the_dial_and_within_the_rim
    "impossible-place/unknown-landmark" a_landmark_is_one_that_the_series_draws
    "mint-not-open/between-two-periods" a_mint_strikes_only_while_it_is_open
    "mint-not-open/unknown-mark" a_mark_belongs_to_a_mint_of_the_country
    "missing-key/bare-tables" a_bare_table_is_told_what_it_lacks
    "missing-key/collection-says-nothing" a_collection_says_whether_it_is_real_and_public
    "missing-key/empty-files" an_empty_file_of_each_kind_is_told_what_it_lacks
    "missing-key/figures" a_figure_with_numbers_can_be_compared
    "missing-key/one-finding" one_finding_tells_nothing_apart
    "not-separated/family-without-a-check" a_family_that_no_check_tells_from_genuine_is_noticed
    "outside-series/mint-not-listed" the_mint_of_an_issue_is_listed_for_its_year
    "outside-series/row-outside-the-years" the_rows_of_a_series_are_within_its_years
    "outside-series/variety-not-listed" the_variety_of_an_issue_is_listed
    "outside-series/year-before-the-series" an_issue_is_within_the_years_of_its_series
    "outside-series/year-not-struck" the_year_of_an_issue_is_listed
    "photo-altered/another-picture" a_picture_that_changed_is_noticed
    "photo-missing/misspelt" a_misspelt_picture_is_shown_with_the_closest
    "photo-missing/no-picture" a_picture_that_is_not_there_is_noticed
    "photo-missing/private-and-not" a_private_picture_is_looked_for_where_it_is_kept
    "photo-broken/cut-short" a_picture_cut_short_is_no_picture
    "photo-broken/each-way" a_damaged_picture_is_noticed
    "photo-format/each-kind" a_picture_is_a_still_one_that_browsers_show
    "photo-format/text-called-png" a_text_called_png_is_no_picture
    "photo-pair/each-slip" a_pair_is_one_true_and_one_false
    "photo-private/in-a-collection" a_private_picture_is_in_no_collection
    "photo-size/seventy-megabytes" a_file_of_seventy_megabytes_is_not_read
    "photo-size/each-way" a_picture_has_pixels_but_not_too_many
    "photo-outside/each-way-out" a_picture_does_not_climb_out_of_its_collection
    "private-reference/key-and-link" nothing_public_refers_to_a_private_entry
    "raw-html/block" a_block_of_html_is_refused
    "raw-html/comment" a_comment_of_html_is_refused
    "raw-html/in-a-list-item" html_in_a_list_is_refused
    "raw-html/script" a_script_is_refused
    "repeated-sentence/six-entries" a_sentence_in_six_entries_is_said_once_elsewhere
    "separates-nothing/all-alike" a_check_with_equal_expectations_is_noticed
    "separates-nothing/measure-without-a-standard" a_measure_without_a_standard_is_noticed
    "separates-nothing/nothing-expected" a_check_without_expectations_is_noticed
    "stale-review/in-the-future" a_review_after_today_is_noticed
    "stale-review/over-two-years" a_review_over_two_years_old_is_noticed
    "standard-gap/two-for-some-years" a_year_has_one_standard
    "standard-gap/year-without-one" a_listed_year_has_a_standard
    "syntax/curly-quotes" curly_quotes_are_no_quotes
    "syntax/deep-nesting" brackets_nested_without_end_are_refused
    "syntax/header-not-closed" a_header_is_closed
    "syntax/key-twice" a_key_is_written_once
    "syntax/no-equals-sign" a_key_has_an_equals_sign
    "syntax/no-such-day" a_date_is_in_the_calendar
    "syntax/prose-not-closed" prose_is_closed
    "syntax/string-not-closed" a_string_is_closed
    "syntax/table-twice" a_table_is_written_once
    "syntax/word-without-quotes" a_word_has_quotes
    "term-undefined/misspelt" a_misspelt_term_is_shown_with_the_closest
    "term-undefined/stranger" a_linked_term_has_its_entry
    "unknown-hypothesis/misspelt" a_misspelt_hypothesis_is_shown_with_the_closest
    "unknown-hypothesis/no-hypothesis" a_word_that_is_no_hypothesis_is_refused
    "unknown-hypothesis/not-of-this-issue" an_expectation_is_about_what_the_issue_names
    "unknown-hypothesis/self-in-an-issue" an_issue_has_no_self
    "unknown-key/kind-from-another-table" a_table_of_another_kind_of_entry_is_not_known
    "unknown-key/misspelt" a_misspelt_key_is_shown_with_the_closest
    "unknown-key/stranger" an_unknown_key_is_shown_with_what_there_is
    "unknown-kind/misspelt-folder" a_misspelt_folder_is_shown_with_the_closest
    "unknown-kind/no-folder" an_entry_stands_in_the_folder_of_its_kind
    "unknown-kind/strange-folder" a_folder_of_no_kind_is_refused
    "unknown-source/misspelt" a_misspelt_source_is_shown_with_the_closest
    "unknown-source/of-a-later-collection" a_source_of_a_later_collection_is_not_cited
    "unknown-source/stranger" a_source_that_is_not_there_is_noticed
    "unreadable-text/folders-too-deep" folders_are_not_nested_without_end
    "unreadable-text/not-utf-8" a_file_that_is_not_utf_8_is_refused
    "unreadable-text/symbolic-link" a_link_on_the_disk_is_not_followed
    "unreadable-text/two-megabytes" a_file_of_two_megabytes_is_refused
    "unreadable-text/utf-16" a_file_in_utf_16_is_refused
    "wrong-type/citation-is-a-word" a_citation_is_a_table
    "wrong-type/date-with-quotes" a_date_has_no_quotes
    "wrong-type/date-with-time" a_date_has_no_time
    "wrong-type/each-kind-of-key" every_key_has_its_type
    "wrong-type/source-is-a-title" a_source_is_a_table
    "wrong-type/table-for-a-list-of-tables" a_list_of_tables_has_double_brackets
}

cases! { check_near(NEAR):
    "ambiguous-reference/whole-id" a_whole_id_is_never_ambiguous
    "bad-id/longest-name" a_name_of_sixty_four_letters_is_an_id
    "bad-value/figures-with-numbers" figures_at_the_ends_of_their_ranges_pass
    "bad-value/the-ends-of-each-range" values_at_the_ends_of_their_ranges_pass
    "basis-missing/both-forms" both_forms_of_a_basis_pass
    "citation-without-place/any-place" any_place_in_a_source_passes
    "count-not-read/invented-collection" a_count_in_an_invented_collection_passes
    "count-not-read/read" a_count_that_was_read_passes
    "dangling-reference/tail-of-an-id" the_tail_of_an_id_is_enough
    "duplicate-id/an-override-that-says-so" a_later_collection_may_replace_an_entry
    "duplicate-id/check-and-diagnostic" a_check_and_a_diagnostic_may_share_an_id
    "forbidden-link/link-to-an-entry" a_link_to_an_entry_passes
    "host-impossible/of-another-series" a_host_of_another_series_passes
    "impossible-count/none-of-one" none_of_one_can_be_counted
    "impossible-place/ends-of-the-dial" the_ends_of_the_dial_pass
    "mint-not-open/last-and-first-year" the_first_and_last_year_of_a_mint_pass
    "missing-key/the-fewest-keys" the_fewest_keys_pass
    "not-separated/note-says-why" a_note_excuses_a_pair
    "outside-series/variety-as-listed" a_variety_as_listed_passes
    "photo-altered/sum-in-capitals" a_sum_in_capitals_passes
    "photo-broken/more-behind-the-end" what_follows_a_picture_is_no_damage
    "photo-format/unusual-but-shown" unusual_pictures_that_browsers_show_pass
    "photo-pair/one-of-each" pairs_may_be_named_from_either_side
    "photo-private/in-its-folder" a_private_picture_in_its_folder_passes
    "photo-private/without-its-folder" a_private_picture_may_be_elsewhere
    "photo-size/one-pixel-and-a-long-line" the_smallest_and_the_longest_picture_pass
    "photo-missing/a-picture-used-twice" a_picture_may_be_used_twice
    "photo-outside/two-dots-in-a-name" two_dots_in_a_name_do_not_climb
    "private-reference/private-to-public" a_private_entry_may_refer_to_a_public_one
    "raw-html/escaped-and-in-code" an_escaped_or_quoted_bracket_passes
    "repeated-sentence/five-entries-and-short-words" five_entries_may_share_a_sentence
    "separates-nothing/just-enough" one_expectation_is_enough
    "stale-review/two-years-to-the-day" a_review_of_two_years_to_the_day_passes
    "standard-gap/year-of-change" a_year_of_change_may_have_two_standards
    "syntax/unusual-but-legal" unusual_but_legal_toml_passes
    "term-undefined/defined" a_defined_term_passes
    "unknown-hypothesis/inherited-and-self" an_inherited_check_may_name_what_an_issue_lacks
    "unknown-key/every-key-an-issue-can-have" every_key_of_an_issue_passes
    "unknown-kind/notes-and-hidden-files" notes_and_hidden_files_are_no_entries
    "unknown-source/of-an-earlier-collection" a_source_of_an_earlier_collection_may_be_cited
    "unreadable-text/accented-letters" letters_of_all_scripts_pass
    "unreadable-text/almost-a-megabyte" a_file_of_almost_a_megabyte_passes
    "wrong-type/whole-number-for-a-fraction" a_whole_number_passes_for_a_fraction
}

#[test]
fn the_collection_under_the_cases_has_no_problems() {
    let folder = lay(Path::new(""));
    let (corpus, problems) = check(folder.path());
    assert_eq!(shown(folder.path(), &corpus, &problems), "");
}

#[test]
fn every_code_has_a_bad_case_and_a_near_miss() {
    let of = |cases: &[&str]| -> BTreeSet<String> {
        cases.iter().filter_map(|case| case.split_once('/')).map(|(code, _)| code.to_string()).collect()
    };
    let codes: BTreeSet<String> = Code::ALL.iter().map(|code| code.name().to_string()).collect();
    assert_eq!(of(BAD), codes);
    assert_eq!(of(NEAR), codes);
}

#[test]
fn every_file_of_a_case_is_read_by_a_test() {
    for (root, cases) in [("tests/bad", BAD), ("tests/near", NEAR)] {
        let on_disk: BTreeSet<String> = files_under(Path::new(root))
            .iter()
            .map(|file| file.split('/').take(2).collect::<Vec<_>>().join("/"))
            .collect();
        let unread: Vec<_> = on_disk.iter().filter(|case| !cases.contains(&case.as_str())).collect();
        assert!(unread.is_empty(), "{root} has cases that no test reads: {unread:?}");
    }
    let golden = files_under(Path::new("tests/bad")).iter().filter(|file| file.ends_with("/expected.txt")).count();
    assert_eq!(golden, BAD.len());
}

fn check_bad(case: &str) {
    let (code, text) = outcome("tests/bad", case);
    assert!(text.contains(&format!("[{code}]: ")), "{case} does not show {code}:\n{text}");
    assert_golden(&Path::new("tests/bad").join(case).join("expected.txt"), &text);
}

fn check_near(case: &str) {
    let (_, text) = outcome("tests/near", case);
    assert!(text.is_empty(), "{case} should pass:\n{text}");
}

/// The code that a case is about, and all its problems as text.
fn outcome(root: &str, case: &str) -> (String, String) {
    let (code, name) = case.split_once('/').expect("code/case");
    let folder = lay(&Path::new(root).join(case));
    make(code, name, &folder.path().join("orrin"));
    let (corpus, problems) = check(folder.path());
    let text = shown(folder.path(), &corpus, &problems);
    assert!(problems.iter().all(one_line), "a message is one line:\n{text}");
    (code.to_string(), text)
}

fn one_line(problem: &Diagnostic) -> bool {
    !problem.message.is_empty() && !problem.message.contains('\n') && problem.hint.is_some()
}

/// Files that a repository does not hold well: bad bytes, links, great sizes and depths.
fn make(code: &str, name: &str, collection: &Path) {
    let term = collection.join("glossary/prow.toml");
    let well = "term = \"prow\"\n\n[meaning]\ntext  = '''The stem of a ship.'''\nbasis = \"common-practice\"\n";
    let bytes: Vec<u8> = match (code, name) {
        ("unreadable-text", "not-utf-8") => [&b"term = \"pr\xf6w\"\n"[..], well.as_bytes()].concat(),
        ("unreadable-text", "utf-16") => {
            [0xff, 0xfe].into_iter().chain(well.encode_utf16().flat_map(u16::to_le_bytes)).collect()
        }
        ("unreadable-text", "two-megabytes") => [well, &"# prow\n".repeat(300_000)].concat().into_bytes(),
        ("unreadable-text", "almost-a-megabyte") => [well, &"# prow\n".repeat(149_000)].concat().into_bytes(),
        ("unreadable-text", "symbolic-link") => {
            return link(Path::new("/etc/hostname"), &term);
        }
        ("unreadable-text", "folders-too-deep") => {
            let deep = collection.join("glossary/a/b/c/d/e/f/g/h/i/j/k/l");
            fs::create_dir_all(&deep).expect("deep folders can be made");
            return fs::write(deep.join("prow.toml"), well).expect("a file in them too");
        }
        ("photo-size", "seventy-megabytes") => {
            let photos = collection.join("photos");
            let file = fs::File::create(photos.join("seventy.jpg")).expect("a file can be made");
            return file.set_len(70_000_000).expect("and made long");
        }
        ("syntax", "deep-nesting") => ["deep = ", &"[".repeat(100_000), "\n", well].concat().into_bytes(),
        ("bad-id", "toml-twice") => {
            return fs::write(collection.join("glossary/die-polish.toml.toml"), well).expect("a file can be written");
        }
        _ => return,
    };
    fs::write(term, bytes).expect("a file can be written");
}

#[cfg(unix)]
fn link(target: &Path, at: &Path) {
    std::os::unix::fs::symlink(target, at).expect("a link can be made");
}

#[cfg(not(unix))]
fn link(_target: &Path, at: &Path) {
    fs::write(at, "").expect("a file can be written");
}
