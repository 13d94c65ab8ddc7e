// Resistor pack: a chain of coils with taps, and one-shot thermal limiters.
#include <algorithm>

#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/misread.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"pack", "coil ohms", Unit::ohm, 1e-3, 1e5},
    {"pack", "limiter", Unit::celsius, 40, 500},
};

std::vector<std::string> taps_of(const Part& part) {
    std::vector<std::string> taps;
    for (const Coil& coil : part.coils) {
        if (taps.empty()) taps.push_back(coil.from);
        taps.push_back(coil.to);
    }
    return taps;
}

/// The tap behind `at`; without one a limiter stands at the common (last) tap.
std::string read_limiter_tap(PartReader& reader, Part& part) {
    const std::vector<std::string> taps = taps_of(part);
    const std::string common = taps.empty() ? "4" : taps.back();
    const Word* at = reader.peek();
    if (!at || at->after_comma || !same_word(at->text, "at")) return taps.empty() ? "" : common;
    const Word word = reader.take();
    const std::string advice = "name one of its taps, for example limiter 121C at " + common;
    if (const Word* next = reader.peek(); !next || next->after_comma) {
        reader.error(ProblemCode::missing_word, reader.place_of(word),
                     "no tap stands behind 'at' in '" + part.name + "'", advice);
        return common;
    }
    const Word tap = reader.take();
    if (std::find(taps.begin(), taps.end(), tap.text) != taps.end()) return tap.text;
    reader.error(ProblemCode::unknown_terminal, reader.place_of(tap),
                 "'" + tap.text + "' is not a tap of '" + part.name + "'", advice);
    return common;
}

/// `limiter 121C at 4`, one a tap.
void read_limiters(PartReader& reader, Part& part) {
    while (const Word* word = reader.peek()) {
        if (!same_word(word->text, "limiter")) break;
        const Word keyword = reader.take();
        Limiter limiter{"", default_parameter("limiter", Unit::celsius, "limiter_ohm")};
        limiter.opens_at.value = 121;  // three sources (reference parts 2.3)
        limiter.opens_at.source = "one-shot limiters open at 121 C (reference parts 2.3)";
        if (const auto opens = reader.take_number(part, "limiter", Unit::celsius)) limiter.opens_at = *opens;
        limiter.tap = read_limiter_tap(reader, part);
        const bool twice = std::any_of(part.limiters.begin(), part.limiters.end(),
                                       [&](const Limiter& l) { return l.tap == limiter.tap; });
        if (twice) {
            reader.error(ProblemCode::written_twice, reader.place_of(keyword),
                         "two limiters of '" + part.name + "' stand at tap '" + limiter.tap + "'",
                         "give each a tap of its own, for example limiter 121C at " + limiter.tap);
            continue;
        }
        part.limiters.push_back(limiter);
    }
}

/// A tap's name, which may stand once; false where the next word is none.
bool read_tap(PartReader& reader, Part& part, std::string& tap) {
    const Word* next = reader.peek();
    if (!next || same_word(next->text, "limiter")) return false;
    const bool signed_number = looks_like_number(next->text) && (next->text.front() == '-' || next->text.back() == '%');
    if (signed_number && reader.report_misread(part)) {
        part.coils.clear();
        while (reader.peek()) reader.take();
        return false;
    }
    const Word name = reader.take();
    if (name.measure && name.measure->unit != Unit::none) {
        reader.error(ProblemCode::missing_word, reader.place_of(name),
                     "'" + name.text + "' stands where a tap name is expected in '" + part.name + "'",
                     "taps and coils take turns: " + std::string(part.kind->example));
        return false;
    }
    const std::vector<std::string> taps = taps_of(part);
    if (std::find(taps.begin(), taps.end(), name.text) != taps.end()) {
        reader.error(ProblemCode::written_twice, reader.place_of(name),
                     "tap '" + name.text + "' of '" + part.name + "' stands twice",
                     "give each tap a name of its own: " + std::string(part.kind->example));
    }
    if (!tap.empty()) part.coils.back().to = name.text;
    tap = name.text;
    return true;
}

void skip_line(PartReader& reader) {
    while (reader.peek()) reader.take();
}

void read(PartReader& reader, Part& part) {
    reader.knows("limiter");
    std::string tap;
    while (read_tap(reader, part, tap)) {
        const auto ohms = reader.take_number(part, "coil ohms", Unit::ohm);
        if (!ohms) {
            // What stands behind a coil that does not read can be told from a tap only by guessing.
            if (!reader.report_misread(part)) break;
            part.coils.clear();
            return skip_line(reader);
        }
        part.coils.push_back({tap, "", *ohms});
    }
    if (part.coils.empty() || part.coils.back().to.empty()) {
        reader.error_of_line(ProblemCode::wrong_count,
                             "'" + part.name + "' needs taps and coils in turn, ending with a tap",
                             "for example " + std::string(part.kind->example));
        part.coils.clear();
    }
    read_limiters(reader, part);
}

std::vector<std::string> terminals(const Part& part) {
    const auto taps = taps_of(part);
    return taps.empty() ? std::vector<std::string>{"1"} : taps;
}

/// The joint where the coils of a tap meet: the pin itself, or behind a limiter.
JointId coil_joint(const Part& part, Layout& layout, const std::string& tap) {
    const auto limiter =
        std::find_if(part.limiters.begin(), part.limiters.end(), [&](const Limiter& l) { return l.tap == tap; });
    const bool drawn = layout.used(tap);
    if (limiter == part.limiters.end()) return drawn ? layout.pin(tap) : layout.inner("tap " + tap);
    const JointId inside = layout.inner("behind limiter " + tap);
    const BranchId branch = layout.branch({"limiter", BranchSort::other}, layout.pin(tap), inside,
                                          Resistor{default_value("limiter_ohm")}, contact_sigma());
    const bool several = part.limiters.size() > 1;
    const ModeWords words{several ? "limiter at " + tap + " open" : "limiter open",
                          "thermal limiter of " + part.name + (several ? " at tap " + tap : "") + " open"};
    FaultMode& open = layout.mode(words, FaultClass::pack, {ModeFact::limiter_open}, opening(branch));
    open.share = 3;  // of the confirmed pack cases: coil 4, limiter 3, contact 1
    open.looks = "burnt melted";
    return inside;
}

void lay(const Part& part, Layout& layout) {
    if (part.coils.empty()) return;
    JointId from = coil_joint(part, layout, part.coils.front().from);
    const double share = 4.0 / static_cast<double>(part.coils.size());
    for (const Coil& coil : part.coils) {
        const JointId to = coil_joint(part, layout, coil.to);
        const std::string name = "coil " + coil.from + "-" + coil.to;
        const Resistor healthy{coil.ohms.value};
        const BranchId branch =
            layout.branch({name, BranchSort::pack_coil}, from, to, healthy, sigma_of(coil.ohms, "tolerance_pack_ohm"));
        FaultMode& open =
            layout.mode({name + " open", name + " of " + part.name + " open"}, FaultClass::pack, {}, opening(branch));
        open.share = share;
        open.looks = "burnt rust cracked debris";
        FaultMode& drift = layout.mode({name + " drift", name + " of " + part.name + " has changed its ohms"},
                                       FaultClass::pack, {}, scaling(branch, healthy.ohms));
        drift.size = factor_range("range_drift", "drift_factor");
        drift.share = share / 4;
        drift.looks = "burnt rust";
        from = to;
    }
}

}  // namespace

constinit const Kind pack_kind{
    .word = "pack",
    .example = "pack 1 1.2ohm 2 0.7ohm 3 0.35ohm 4, limiter 121C",
    .fitting = Fitting::plugs_in,
    .joining = Joining::nothing,
    .duty = Duty::other,
    .drop = Drop::by_design,
    .load = LoadKind::none,
    .load_words = "",
    .read = read,
    .terminals = terminals,
    .terminal_aliases = "",
    .lay = lay,
    .figures = figures,
    .terminals_called = "taps",
};

}  // namespace voltfall
