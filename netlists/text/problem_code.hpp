// The one table of what can be wrong: a short name that stays, for programs that read the JSON of a problem.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "netlists/text/problem.hpp"

namespace voltfall {

// clang-format off
/// Names of codes are never changed and never reused; new ones are added where they belong.
#define VOLTFALL_PROBLEM_CODES(CODE)                                      \
    /* the file and its text */                                           \
    CODE(unreadable_file, "unreadable-file")                              \
    CODE(file_too_large, "file-too-large")                                \
    CODE(not_a_text, "not-a-text")                                        \
    CODE(not_utf8, "not-utf-8")                                           \
    CODE(control_character, "control-character")                          \
    CODE(strange_character, "strange-character")                          \
    CODE(not_toml, "not-toml")                                            \
    CODE(no_quotes, "no-quotes")                                          \
    CODE(open_quotes, "open-quotes")                                      \
    CODE(open_list, "open-list")                                          \
    CODE(bad_header, "bad-header")                                        \
    CODE(backslash, "backslash")                                          \
    CODE(no_equals, "no-equals")                                          \
    CODE(no_name, "no-name")                                              \
    CODE(no_value, "no-value")                                            \
    CODE(words_behind, "words-behind")                                    \
    CODE(written_twice, "written-twice")                                  \
    CODE(nested_too_deep, "nested-too-deep")                              \
    CODE(too_long, "too-long")                                            \
    CODE(too_many, "too-many")                                            \
    CODE(wrong_type, "wrong-type")                                        \
    CODE(unknown_format, "unknown-format")                                \
    CODE(unknown_key, "unknown-key")                                      \
    CODE(missing_key, "missing-key")                                      \
    CODE(unknown_section, "unknown-section")                              \
    CODE(missing_section, "missing-section")                              \
    CODE(missing_file, "missing-file")                                    \
    CODE(wrong_file_kind, "wrong-file-kind")                              \
    /* names */                                                           \
    CODE(bad_name, "bad-name")                                            \
    CODE(name_taken, "name-taken")                                        \
    CODE(unknown_part, "unknown-part")                                    \
    CODE(unknown_wire, "unknown-wire")                                    \
    CODE(unknown_place, "unknown-place")                                  \
    CODE(unknown_point, "unknown-point")                                  \
    CODE(unknown_terminal, "unknown-terminal")                            \
    CODE(missing_terminal, "missing-terminal")                            \
    CODE(unwired_point, "unwired-point")                                  \
    CODE(unknown_position, "unknown-position")                            \
    CODE(unknown_control, "unknown-control")                              \
    CODE(unknown_load, "unknown-load")                                    \
    /* words and figures */                                               \
    CODE(unknown_word, "unknown-word")                                    \
    CODE(missing_word, "missing-word")                                    \
    CODE(extra_word, "extra-word")                                        \
    CODE(empty_phrase, "empty-phrase")                                    \
    CODE(two_meanings, "two-meanings")                                    \
    CODE(does_not_fit, "does-not-fit")                                    \
    CODE(contradiction, "contradiction")                                  \
    CODE(missing_figure, "missing-figure")                                \
    CODE(no_unit, "no-unit")                                              \
    CODE(wrong_unit, "wrong-unit")                                        \
    CODE(no_figure, "no-figure")                                          \
    CODE(figure_out_of_range, "figure-out-of-range")                      \
    /* parts and wires */                                                 \
    CODE(unknown_kind, "unknown-kind")                                    \
    CODE(no_battery, "no-battery")                                        \
    CODE(missing_end, "missing-end")                                      \
    CODE(missing_arrow, "missing-arrow")                                  \
    CODE(wire_onto_itself, "wire-onto-itself")                            \
    CODE(missing_size, "missing-size")                                    \
    CODE(missing_length, "missing-length")                                \
    CODE(wrong_count, "wrong-count")                                      \
    CODE(unknown_colour, "unknown-colour")                                \
    CODE(unknown_colour_table, "unknown-colour-table")                    \
    CODE(row_left_out, "row-left-out")                                    \
    CODE(empty_list, "empty-list")                                        \
    /* faults, tools and lessons */                                       \
    CODE(unknown_fault, "unknown-fault")                                  \
    CODE(missing_fault, "missing-fault")                                  \
    CODE(unknown_tool, "unknown-tool")                                    \
    CODE(seal_broken, "seal-broken")                                      \
    CODE(lesson_unseen, "lesson-unseen")                                  \
    CODE(lesson_root, "lesson-root")                                      \
    CODE(lesson_trap, "lesson-trap")                                      \
    CODE(lesson_action, "lesson-action")                                  \
    CODE(lesson_unsolved, "lesson-unsolved")                              \
    CODE(lesson_over_budget, "lesson-over-budget")                        \
    /* the sense of the wiring */                                         \
    CODE(no_wire, "no-wire")                                              \
    CODE(no_feed, "no-feed")                                              \
    CODE(no_ground, "no-ground")                                          \
    CODE(never_live, "never-live")                                        \
    CODE(loads_in_series, "loads-in-series")                              \
    CODE(coil_unwired, "coil-unwired")                                    \
    CODE(relay_never_pulls, "relay-never-pulls")                          \
    CODE(wire_ends_in_air, "wire-ends-in-air")                            \
    CODE(one_half, "one-half")                                            \
    CODE(two_feeds, "two-feeds")                                          \
    CODE(guessed_figures, "guessed-figures")                              \
    CODE(fuse_above_wire, "fuse-above-wire")                              \
    CODE(fuse_overloaded, "fuse-overloaded")                              \
    CODE(dead_short, "dead-short")                                        \
    CODE(batteries_fight, "batteries-fight")                              \
    CODE(position_reaches_nothing, "position-reaches-nothing")            \
    CODE(contact_unwired, "contact-unwired")                              \
    CODE(key_without_15, "key-without-15")                                \
    CODE(contact_figures, "contact-figures")                              \
    CODE(not_tried, "not-tried")                                          \
    CODE(commands_differ, "commands-differ")                              \
    CODE(load_on_command_wire, "load-on-command-wire")                    \
    CODE(no_command_wire, "no-command-wire")                              \
    /* the end of a long list */                                          \
    CODE(more_problems, "more-problems")

enum class ProblemCode : std::uint8_t {
#define VOLTFALL_CODE(name, text) name,
    VOLTFALL_PROBLEM_CODES(VOLTFALL_CODE)
#undef VOLTFALL_CODE
};
// clang-format on

/// The name that stays: "unknown-part".
std::string_view code_name(ProblemCode code);

/// Every code, in the order of the table.
std::span<const ProblemCode> problem_codes();

}  // namespace voltfall
