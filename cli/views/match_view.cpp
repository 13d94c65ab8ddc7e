#include "cli/views/match_view.hpp"

#include <fmt/format.h>

#include "cli/views/figures.hpp"
#include "cli/views/text_table.hpp"
#include "engine/figures/repair_reach.hpp"

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

void write_size(TextPage& page, const Candidate& candidate) {
    if (candidate.size) {
        const SizeEstimate& size = *candidate.size;
        page.labelled(
            "size",
            fmt::format("{}, best {}", shown_range(size.low, size.high, size.unit), shown_size(size.best, size.unit)),
            4);
    }
    if (candidate.where) {
        const SizeEstimate& where = *candidate.where;
        page.labelled(
            "where",
            fmt::format("{} of the wire from its first end, best {}", shown_range(where.low, where.high, Unit::percent),
                        shown_size(where.best, Unit::percent)),
            4);
    }
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
    write_size(page, candidate);
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
        if (pair.probability < worth_a_line) break;
        any = true;
        page.paragraph(fmt::format("{} and {}: {}; repair {} and {}", pair.faults[0], pair.faults[1],
                                   probability_words(pair.probability), pair.repairs[0], pair.repairs[1]),
                       2);
    }
    if (!any) page.paragraph("no two faults fit better than one", 2);
}

/// What one visit mends, so that four cavities of one plug do not fill the list.
void write_places(TextPage& page, const MatchView& view) {
    constexpr double worth_a_line = 0.01;
    constexpr std::size_t most_faults = 3;
    TextTable table({{"repair", Align::left},
                     {"chance", Align::right},
                     {"there and back", Align::right},
                     {"what may be wrong", Align::left, Fold::words}});
    std::size_t rows = 0;
    for (const RepairChance& place : view.answer.places) {
        if (rows >= page.style().top || place.probability < worth_a_line) break;
        ++rows;
        std::string faults;
        for (std::size_t i = 0; i < std::min(place.faults.size(), most_faults) && !place.nothing; ++i)
            faults += (i == 0 ? "" : ", ") + place.faults[i];
        const bool known = view.circuit && !place.nothing;
        const std::string minutes =
            known ? shown_minutes(reach_of_repair(*view.circuit, place.reached_with).minutes) : "";
        table.row({place.place, probability_words(place.probability), minutes, faults});
    }
    if (rows < 2) return;
    page.gap();
    page.table(table, 0);
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

std::string match_text(const MatchView& view, PageStyle style) {
    const MatchAnswer& answer = view.answer;
    TextPage page(style);
    if (!view.concern.empty()) page.labelled("concern:", view.concern, 0);
    page.paragraph(counted(static_cast<std::size_t>(answer.readings), "reading") + " weighed");
    for (const std::string& note : answer.notes) page.labelled("note", note, 0, Tone::caution);
    if (answer.supply_unknown && answer.notes.empty())
        page.labelled("note", "supply unknown: no reading of B1+ to B1- and no key word; measure it first", 0,
                      Tone::caution);
    if (none_leads(answer)) {
        page.gap();
        page.paragraph(fmt::format("NO FAULT FITS: none of these is {}", probability_words(answer.none_of_these)), 0, 2,
                       Tone::bad);
    }
    if (!answer.pairs.empty() && !answer.candidates.empty() &&
        answer.pairs.front().probability > answer.candidates.front().probability) {
        page.gap();
        page.paragraph("two faults at once fit better than any one of these: see below", 0, 2, Tone::caution);
    }
    write_places(page, view);
    const std::size_t explained = std::min({view.explained, style.top, answer.candidates.size()});
    for (std::size_t i = 0; i < explained; ++i) write_candidate(page, view, answer.candidates[i], i + 1);
    if (answer.candidates.size() > explained) {
        page.gap();
        const std::string more = explained < style.top
                                     ? "the others explained: --why"
                                     : more_line(answer.candidates.size() - explained, answer.candidates.size());
        page.paragraph(more, 0, 2, Tone::quiet);
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
