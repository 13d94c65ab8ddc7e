#include "cli/views/match_view.hpp"

#include <fmt/format.h>

#include "cli/views/figures.hpp"
#include "cli/views/next_view.hpp"
#include "cli/views/text_table.hpp"
#include "engine/figures/repair_reach.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/lists.hpp"

namespace voltfall {

namespace {

bool listed(const std::vector<std::string>& list, const std::string& fault) {
    for (const std::string& item : list)
        if (item == fault) return true;
    return false;
}

Tone candidate_tone(double probability) {
    return probability >= 0.5 ? Tone::heading : Tone::plain;
}

/// The sentence of a fault's phrase; empty where the circuit has no such row.
std::string plain_of(const MatchView& view, const std::string& phrase) {
    if (!view.circuit) return {};
    for (const ModePtr& mode : view.circuit->modes)
        if (mode->phrase() == phrase) return mode->plain;
    return {};
}

const Candidate* candidate_called(const MatchAnswer& answer, const std::string& phrase) {
    for (const Candidate& candidate : answer.candidates)
        if (candidate.fault == phrase) return &candidate;
    return nullptr;
}

/// Along more than this share of a wire a place is not narrowed.
constexpr double widest_place = 0.5;

/// "0.28 to 0.32 ohm, 40 to 60 % along"; without a known supply the size is only about so much.
std::string size_words(const MatchAnswer& answer, const Candidate& candidate) {
    std::string text;
    if (candidate.size) {
        const SizeEstimate& size = *candidate.size;
        text = answer.supply_unknown ? "roughly " + shown_size(significant(size.best, 1), size.unit)
                                     : shown_range(size.low, size.high, size.unit);
    }
    if (const auto& where = candidate.where; where && where->high - where->low < widest_place)
        text += (text.empty() ? "" : ", ") + shown_range(where->low, where->high, Unit::percent) + " along it";
    return text;
}

void write_names(TextPage& page, std::string_view label, const std::vector<std::string>& names) {
    if (!names.empty()) page.labelled(label, name_list(names, page.style().top), 4);
}

/// "25 min there and back, by strip-down dash".
std::string reach_text(const Circuit::Reach& reach) {
    std::string text = shown_minutes(reach.minutes) + " there and back";
    if (!reach.known) text += " (guessed: no [reach] for it)";
    if (!reach.strip.empty()) text += ", by strip-down " + reach.strip;
    return text;
}

void write_cost(TextPage& page, const MatchView& view, const Candidate& candidate) {
    std::string text = candidate.repair;
    // What it has broken is renewed with the cause.
    for (const BrokenThing& victim : candidate.led_to) text += " and " + victim.place;
    const bool known = view.circuit && !candidate.repair.empty();
    if (known) text += ", " + reach_text(reach_of_repair(*view.circuit, candidate.repair));
    if (!text.empty()) page.labelled("repair", text, 4);
    if (known) write_names(page, "with it", replaced_with(*view.circuit, candidate.repair));
}

/// Reasons that a better candidate has too are not written again.
void write_reasons(TextPage& page, const MatchView& view, const Candidate& candidate, std::size_t number) {
    for (std::size_t i = 0; i + 1 < number; ++i) {
        const Candidate& better = view.answer.candidates[i];
        if (candidate.because.empty() || better.because != candidate.because || better.against != candidate.against)
            continue;
        page.labelled("because", fmt::format("as {}", i + 1), 4);
        return;
    }
    for (const std::string& reason : candidate.because) page.labelled("because", reason, 4);
    for (const std::string& reason : candidate.against) page.labelled("against", reason, 4);
}

void write_candidate(TextPage& page, const MatchView& view, const Candidate& candidate, std::size_t number) {
    page.gap();
    page.labelled(fmt::format("{}", number),
                  fmt::format("{}: {}", candidate.fault, probability_words(candidate.probability)), 0,
                  candidate_tone(candidate.probability));
    if (const std::string size = size_words(view.answer, candidate); !size.empty()) page.labelled("size", size, 4);
    write_reasons(page, view, candidate, number);
    std::vector<std::string> causes;
    for (const LikelyCause& cause : candidate.caused_by)
        causes.push_back(cause.fault + " (" + probability_words(cause.probability) + ")");
    write_names(page, "caused by", causes);
    write_names(page, "has led to", phrases_of(candidate.led_to));
    write_names(page, "alike so far", candidate.alike_so_far);
    write_names(page, "same for every probe", candidate.same_as);
    write_cost(page, view, candidate);
}

void write_pairs(TextPage& page, const MatchAnswer& answer) {
    if (!answer.pairs_asked) return;
    page.gap();
    page.heading("two faults at once");
    constexpr double worth_a_line = 0.001;
    bool any = false;
    for (std::size_t i = 0; i < answer.pairs.size() && i < page.style().top; ++i) {
        const FaultPair& pair = answer.pairs[i];
        if (pair.of_repairs < worth_a_line) continue;
        any = true;
        page.paragraph(fmt::format("{} and {}: {}; repair {} and {}", pair.faults[0], pair.faults[1],
                                   probability_words(pair.of_repairs), pair.repairs[0], pair.repairs[1]),
                       2);
    }
    if (!any) page.paragraph("no two faults fit better than one", 2);
}

/// What one visit mends, so that four cavities of one plug do not fill the list: chance, the likeliest fault there,
/// its size, the minutes there and back.
TextTable places_table(const MatchView& view, std::size_t top) {
    constexpr double worth_a_line = 0.01;
    TextTable table({{"chance", Align::left},
                     {"what it is", Align::left, Fold::words},
                     {"size", Align::left, Fold::words, 1},
                     {"mend", Align::right}});
    for (const RepairChance& place : view.answer.places) {
        if (table.size() >= top || place.probability < worth_a_line) break;
        const bool nothing = place.nothing || place.faults.empty();
        const std::string fault = nothing ? "nothing" : place.faults.front();
        const std::string plain = nothing ? "no fault found" : plain_of(view, fault);
        const Candidate* candidate = candidate_called(view.answer, fault);
        const bool known = view.circuit && !nothing;
        table.row({probability_words(place.probability), plain.empty() ? fault : fault + ": " + plain,
                   candidate ? size_words(view.answer, *candidate) : "",
                   known ? shown_minutes(reach_of_repair(*view.circuit, place.reached_with).minutes) : ""});
    }
    return table;
}

void write_doubts(TextPage& page, const MatchAnswer& answer) {
    if (!answer.doubtful.empty()) page.gap();
    for (const Doubt& doubt : answer.doubtful)
        page.labelled("doubtful",
                      fmt::format("reading {}: {} that it is wrong; take it again", doubt.reading,
                                  probability_words(doubt.probability)),
                      0, Tone::caution);
}

void write_ruled_out(TextPage& page, const MatchAnswer& answer) {
    if (answer.ruled_out.empty()) return;
    std::vector<std::string> faults;
    for (const RuledOut& out : answer.ruled_out) faults.push_back(out.fault + " (by reading " + out.by + ")");
    page.gap();
    page.labelled("ruled out", name_list(faults, page.style().top), 0);
}

}  // namespace

bool none_leads(const MatchAnswer& answer) {
    if (answer.candidates.empty()) return true;
    const Candidate& leader = answer.candidates.front();
    double together = leader.probability;
    for (std::size_t i = 1; i < answer.candidates.size(); ++i) {
        const Candidate& other = answer.candidates[i];
        if (listed(leader.alike_so_far, other.fault) || listed(leader.same_as, other.fault))
            together += other.probability;
    }
    return answer.none_of_these > together;
}

namespace {

/// Notes, and what no list of single faults can say.
void write_warnings(TextPage& page, const MatchAnswer& answer) {
    for (const std::string& note : answer.notes) page.labelled("note", note, 0, Tone::caution);
    if (answer.supply_unknown && answer.notes.empty())
        page.labelled("note", "supply unknown: no reading of B1+ to B1- and no key word; measure it first", 0,
                      Tone::caution);
    if (none_leads(answer))
        page.paragraph(fmt::format("NO FAULT FITS: none of these is {}", probability_words(answer.none_of_these)), 0, 2,
                       Tone::bad);
    if (!answer.pairs.empty() && !answer.candidates.empty() &&
        answer.pairs.front().probability > answer.candidates.front().probability)
        page.paragraph("two faults at once fit better than any one of these", 0, 2, Tone::caution);
}

/// Readings that part the first suspect from the next: you read, the first would read, the next would read.
void write_contrast(TextPage& page, const MatchAnswer& answer, std::size_t most_lines) {
    constexpr std::size_t most_rows = 4;
    if (!answer.contrast) return;
    const Contrast& contrast = *answer.contrast;
    TextPage part({page.style().width, page.style().colour});
    const bool for_it = contrast.rows.front().speaks_for_first;
    part.paragraph(for_it ? "why " + contrast.first + " before " + contrast.second
                          : contrast.first + " leads by how often it happens; beside " + contrast.second,
                   0, 2, Tone::heading);
    TextTable table({{"reading", Align::left, Fold::words},
                     {"you read", Align::right},
                     {"the first", Align::right},
                     {"the second", Align::right},
                     {"speaks for", Align::left, Fold::whole, 1}});
    for (const ContrastRow& row : contrast.rows) {
        if (table.size() == most_rows) break;
        const std::string about = answer.supply_unknown ? "about " : "";
        table.row({row.reading + " " + row.asked, row.read, about + row.first, about + row.second,
                   row.speaks_for_first ? "the first" : "the second"});
    }
    if (part.lines() + 2 > most_lines) return;
    part.table_within(table, most_lines - part.lines());
    page.add(part);
}

void write_alike(TextPage& page, const MatchAnswer& answer) {
    if (answer.candidates.empty()) return;
    const Candidate& first = answer.candidates.front();
    std::vector<std::string> names = first.same_as;
    names.insert(names.end(), first.alike_so_far.begin(), first.alike_so_far.end());
    constexpr std::size_t most = 4;
    if (!names.empty()) page.labelled("not told apart yet:", names_and_more(names, most), 0);
}

/// The one test to take next, with what each suspect would read.
void write_next_test(TextPage& page, const MatchView& view) {
    if (!view.test || !view.circuit) return;
    constexpr std::size_t most = 3;
    const TestProposal& test = *view.test;
    std::string text = write_test(*view.circuit, test.test) + ", " + shown_minutes(test.minutes);
    for (std::size_t i = 0; i < test.expect.size() && i < most; ++i)
        text += fmt::format("; {}: {}", test.expect[i].fault, expected_text(test.expect[i]));
    page.labelled("next test:", text, 0, Tone::heading);
}

/// What stands below the table, most needed first where there is little room.
TextPage foot_of(const MatchView& view, PageStyle style) {
    TextPage foot({style.width, style.colour});
    write_alike(foot, view.answer);
    foot.labelled("none of these:", probability_words(view.answer.none_of_these), 0);
    for (const Doubt& doubt : view.answer.doubtful)
        foot.labelled("doubtful:",
                      fmt::format("reading {}, {} that it is wrong; take it again", doubt.reading,
                                  probability_words(doubt.probability)),
                      0, Tone::caution);
    write_pairs(foot, view.answer);
    write_next_test(foot, view);
    foot.paragraph("every suspect and its reasons: --why; then: " + view.next, 0, 2, Tone::quiet);
    return foot;
}

std::string first_screen(const MatchView& view, PageStyle style) {
    TextPage page(style);
    if (!view.concern.empty()) page.labelled("concern:", view.concern, 0);
    write_warnings(page, view.answer);
    const TextPage foot = foot_of(view, style);
    const TextTable places = places_table(view, style.top);
    constexpr std::size_t of_contrast = 4;
    const std::size_t kept = foot.lines() + (view.answer.contrast ? of_contrast : 0);
    const std::size_t rows = page.table_within(places, std::max<std::size_t>(page.room(kept), 3), 0);
    const std::size_t left = view.answer.places.size() - std::min(rows, view.answer.places.size());
    if (left > 0 && page.room(kept) > 0) page.paragraph(fmt::format("{} less likely: --why", left), 2, 2, Tone::quiet);
    write_contrast(page, view.answer, page.room(foot.lines()));
    page.add(foot);
    return page.text();
}

}  // namespace

std::string match_text(const MatchView& view, PageStyle style) {
    if (!view.why && !style.all) return first_screen(view, style);
    const MatchAnswer& answer = view.answer;
    TextPage page(style);
    if (!view.concern.empty()) page.labelled("concern:", view.concern, 0);
    page.paragraph(counted(static_cast<std::size_t>(answer.readings), "reading") + " weighed");
    write_warnings(page, answer);
    page.gap();
    if (const TextTable places = places_table(view, style.top); !places.empty()) page.table(places, 0);
    const std::size_t explained = std::min(style.top, answer.candidates.size());
    for (std::size_t i = 0; i < explained; ++i) write_candidate(page, view, answer.candidates[i], i + 1);
    if (answer.candidates.size() > explained) {
        page.gap();
        page.paragraph(more_line(answer.candidates.size() - explained, answer.candidates.size()), 0, 2, Tone::quiet);
    }
    page.gap();
    page.labelled("none of these:", probability_words(answer.none_of_these), 0);
    write_pairs(page, answer);
    write_doubts(page, answer);
    write_ruled_out(page, answer);
    page.gap();
    page.paragraph("next: " + view.next, 0, 6);
    return page.text();
}

}  // namespace voltfall
