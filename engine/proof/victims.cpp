#include "engine/proof/victims.hpp"

#include <algorithm>

#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A suspect that likely is taken as found.
constexpr double leads = 0.3;

bool says_blown(const Reading& reading, PartId part) {
    const auto* fuse = std::get_if<FuseReading>(&reading.measurement);
    return fuse != nullptr && fuse->part == part && fuse->word != "good" && fuse->word != "missing";
}

bool looks(const Reading& reading, const Circuit& circuit, PartId part, std::initializer_list<std::string_view> words) {
    const auto* look = std::get_if<LookReading>(&reading.measurement);
    if (look == nullptr || circuit.part_at(look->place) != part) return false;
    return std::any_of(words.begin(), words.end(), [&](std::string_view word) {
        return std::any_of(look->words.begin(), look->words.end(),
                           [&](const std::string& seen) { return same_word(seen, word); });
    });
}

/// Says that a fuse was seated anew and nothing of another fuse. Common practice, no source.
bool only_its_seat(const std::string& words) {
    const auto any_in = [&](std::initializer_list<std::string_view> list) {
        return std::any_of(list.begin(), list.end(),
                           [&](std::string_view word) { return words.find(word) != std::string::npos; });
    };
    return any_in({"clean", "contact", "terminal", "clip", "seat", "tighten", "push", "press", "bent"}) &&
           !any_in({"new fuse", "renew", "replace", "fitted", "blown", "blew"});
}

class VictimFinder {
public:
    explicit VictimFinder(const ProofCase& of) : of_(of), circuit_(of.circuit) {}

    std::vector<Victim> victims() const {
        std::vector<Victim> found;
        for (std::size_t i = 0; i < circuit_.parts.size(); ++i) {
            const PartId part{static_cast<std::uint32_t>(i)};
            const Part& of = circuit_.parts[i];
            if (is_fuse_victim(part))
                found.push_back({part, VictimSort::fuse, hairline(part)});
            else if (!of.limiters.empty() && is_limiter_victim(part))
                found.push_back({part, VictimSort::limiter});
            else if (is_burnt(part) || failed_again(part))
                found.push_back({part, VictimSort::burnt});
        }
        return found;
    }

private:
    bool any_before(const std::function<bool(const Reading&)>& is) const {
        return std::any_of(of_.job.readings.begin(), of_.job.readings.end(), is);
    }
    bool repaired_itself(PartId part) const { return of_.is_repaired(circuit_.part(part).name); }

    bool is_fuse_victim(PartId part) const {
        if (!circuit_.part(part).fuse) return false;
        return renewed(part) || any_before([&](const Reading& r) { return says_blown(r, part); });
    }
    /// Another fuse was put in: whose contacts alone were cleaned, or which was only pushed home, has not blown.
    bool renewed(PartId part) const {
        return std::any_of(of_.job.repaired.begin(), of_.job.repaired.end(), [&](const Repaired& repaired) {
            return same_word(circuit_.part(part).name, repaired.place) && !only_its_seat(lower(repaired.words));
        });
    }
    bool hairline(PartId part) const {
        return any_before([&](const Reading& r) { return looks(r, circuit_, part, {"hairline"}); });
    }
    bool is_limiter_victim(PartId part) const {
        if (repaired_itself(part)) return true;
        return std::any_of(of_.weighed.suspects.begin(), of_.weighed.suspects.end(), [&](const Suspect& s) {
            return s.mode != nullptr && s.mode->part == part && s.mode->is(ModeFact::limiter_open) &&
                   s.probability >= leads;
        });
    }
    /// What only joins burns by itself: its own ohms are the cause. A part burns by what it carries.
    bool is_burnt(PartId part) const {
        if (circuit_.part(part).branches.empty() || circuit_.part(part).pins.size() < 2) return false;
        if (only_joins_wires(part)) return false;
        return any_before([&](const Reading& r) { return looks(r, circuit_, part, {"burnt", "melted", "burst"}); });
    }
    bool only_joins_wires(PartId part) const {
        const Part& of = circuit_.part(part);
        return !of.relay && !of.load_branch.valid() && of.coils.empty() && of.positions.empty() && !of.fuse;
    }
    /// "second, worked at first": a part that failed again was no cause.
    bool failed_again(PartId part) const {
        return std::any_of(of_.job.fitted.begin(), of_.job.fitted.end(), [&](const Fitted& fitted) {
            const std::string words = lower(fitted.words);
            const bool again = words.find("second") != std::string::npos || words.find("third") != std::string::npos ||
                               words.find("again") != std::string::npos;
            return fitted.part == part && again;
        });
    }

    const ProofCase& of_;
    const Circuit& circuit_;
};

}  // namespace

std::vector<Victim> victims_of(const ProofCase& of) {
    return VictimFinder(of).victims();
}

}  // namespace voltfall
