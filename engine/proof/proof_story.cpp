// The words of a job that ends: concern, cause, correction, what to order, what may wait, hand back or not.
#include <fmt/format.h>

#include <algorithm>

#include "engine/figures/repair_reach.hpp"
#include "engine/planning/cautions.hpp"
#include "engine/proof/proof_case.hpp"
#include "engine/readings/rounding.hpp"
#include "engine/readings/word_evidence.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A drop above this share of its limit is told as worth looking at again.
constexpr double near_limit = 0.8;
constexpr std::size_t most_numbers = 4;

std::string sentence(std::string text) {
    if (!text.empty() && !text.ends_with('.')) text += '.';
    return text;
}

std::string without_stop(std::string text) {
    if (text.ends_with('.')) text.pop_back();
    return text;
}

class StoryWriter {
public:
    StoryWriter(const ProofCase& of, ProofAnswer& answer) : of_(of), circuit_(of.circuit), answer_(answer) {}

    void write() {
        write_concern();
        write_cause();
        write_correction();
        write_order();
        write_may_wait();
        write_hand_back();
        write_cautions();
    }

private:
    /// "blower slow at ml, mh, hi" of each thing that was not well.
    void write_concern() {
        std::string text = of_.job.concern.empty() ? "No concern was written down." : sentence(of_.job.concern);
        std::vector<std::string> verified;
        for (const Reading& reading : of_.job.readings) {
            const bool off =
                std::any_of(of_.before.judged().begin(), of_.before.judged().end(),
                            [&](const JudgedReading& j) { return j.reading->id == reading.id && !j.sound; });
            const bool heard = std::holds_alternative<LoadReading>(reading.measurement) ||
                               std::holds_alternative<AirReading>(reading.measurement) ||
                               std::holds_alternative<FuseReading>(reading.measurement);
            if (off && heard) verified.push_back(write_reading(circuit_, reading));
        }
        if (!verified.empty()) text += fmt::format(" Found: {}.", fmt::join(verified, "; "));
        answer_.concern_text = std::move(text);
    }

    const Suspect* best_at_repaired() const {
        for (const Suspect* suspect : likeliest_faults(of_.weighed))
            for (const Repaired& repaired : of_.job.repaired)
                if (is_repaired_at(circuit_, *suspect->mode, repaired.place)) return suspect;
        return nullptr;
    }

    void write_cause() {
        if (answer_.nothing_found) {
            answer_.cause_text = "No fault was found: " + sentence(of_.job.repaired.front().words);
            return;
        }
        const Suspect* suspect = best_at_repaired();
        if (suspect == nullptr) {
            answer_.cause_text = "Not named.";
            return;
        }
        const bool shown = first_with(CheckResult::open, CheckSort::cause) == nullptr;
        std::string text = (shown ? "" : "Not shown yet. What was renewed: ") + suspect->mode->plain;
        if (suspect->mode->size)
            text += fmt::format(", about {}", two_digits(suspect->best.size, suspect->mode->size->unit));
        text = sentence(std::move(text));
        if (const std::string numbers = numbers_off(); !numbers.empty()) text += " " + numbers;
        for (const ProofCheck& check : answer_.checks)
            if (check.sort == CheckSort::cause) text += fmt::format(" {}: {}", check.what, sentence(check.why));
        answer_.cause_text = std::move(text);
    }

    /// Readings before the repair that a sound vehicle does not give.
    std::string numbers_off() const {
        std::vector<std::string> numbers;
        for (const JudgedReading& judged : of_.before.judged()) {
            if (judged.sound || !judged.read || numbers.size() == most_numbers) continue;
            numbers.push_back(fmt::format("{} {} (sound: {})", write_test(circuit_, test_of(*judged.reading)),
                                          value_text(circuit_, *judged.reading),
                                          as_meter(judged.expected, judged.is_amps)));
        }
        return numbers.empty() ? "" : fmt::format("Read: {}.", fmt::join(numbers, "; "));
    }

    void write_correction() {
        std::vector<std::string> done;
        for (const Repaired& repaired : of_.job.repaired)
            if (!repaired.nothing_found()) done.push_back(repaired.place + ": " + without_stop(repaired.words));
        std::string text = done.empty() ? "Nothing was mended." : fmt::format("{}.", fmt::join(done, "; "));
        std::vector<std::string> after;
        for (const ProofCheck& check : answer_.checks) {
            if (check.after.empty() || check.sort == CheckSort::runs) continue;
            std::string piece = check.what + " " + check.after;
            if (!check.before.empty()) piece += fmt::format(" (was {})", check.before);
            if (!check.limit.empty()) piece += ", limit " + check.limit;
            after.push_back(std::move(piece));
        }
        if (!after.empty()) text += fmt::format(" After it: {}.", fmt::join(after, "; "));
        for (const ProofCheck& check : answer_.checks)
            if (check.sort == CheckSort::runs) text += " " + sentence(check.why);
        answer_.correction_text = std::move(text);
    }

    void write_order() {
        for (const ProofCheck& check : answer_.checks) {
            if (check.sort != CheckSort::together || check.result == CheckResult::passed) continue;
            const auto colon = check.what.find(": ");
            if (check.closes.starts_with("look ")) answer_.order.push_back(check.what.substr(colon + 2));
        }
        if (!of_.job.repaired.empty()) return;
        const std::string& repair = likeliest_faults(of_.weighed).front()->mode->repair;
        answer_.order.push_back(repair + " (likeliest by the readings)");
        for (std::string& more : replaced_with(circuit_, repair)) answer_.order.push_back(std::move(more));
    }

    void write_may_wait() {
        for (const ProofCheck& check : answer_.checks) {
            if (check.result != CheckResult::passed || check.limit.empty()) continue;
            const bool drop = check.sort == CheckSort::feed || check.sort == CheckSort::ground;
            if (!drop) continue;
            if (check.limit_used > near_limit)
                answer_.may_wait.push_back(
                    fmt::format("{}: {} of {}, within the limit; read it again at the next service", check.what,
                                check.after, check.limit));
        }
    }

    const ProofCheck* first_with(CheckResult result, std::optional<CheckSort> sort = {}) const {
        for (const ProofCheck& check : answer_.checks)
            if (check.result == result && (!sort || check.sort == *sort)) return &check;
        return nullptr;
    }

    void write_hand_back() {
        answer_.hand_back = answer_.proved;
        if (answer_.proved) {
            answer_.hand_back_text =
                answer_.nothing_found ? "yes, as not reproduced and not as repaired: say so to the customer, and what "
                                        "to note when it comes back"
                                      : "yes, every position works under load and what was read lies within its limits";
            return;
        }
        if (const ProofCheck* why = first_with(CheckResult::open, CheckSort::cause)) {
            answer_.hand_back_text = fmt::format("no, {} is open, and it may fail again or heat a wire", why->what);
        } else if (const ProofCheck* failed = first_with(CheckResult::failed)) {
            answer_.hand_back_text = fmt::format("no, {} has failed", failed->what);
        } else {
            answer_.hand_back_text =
                fmt::format("not as repaired: {} is still open", first_with(CheckResult::open)->what);
        }
    }

    /// Before the tests that are still to be taken (usual in the trade, reference trade 5.2).
    void write_cautions() {
        if (answer_.proved) return;
        const auto has_motor = [&](const ConcernedLoad& load) {
            return circuit_.part(load.part).kind->load == LoadKind::motor;
        };
        if (std::any_of(of_.loads.begin(), of_.loads.end(), has_motor))
            answer_.cautions.emplace_back("fan and shaft: hands, hair, sleeves clear; power off before reaching in");
        const bool fuse = std::any_of(of_.job.repaired.begin(), of_.job.repaired.end(), [&](const Repaired& repaired) {
            const PartId part = circuit_.find_part(repaired.place);
            return part.valid() && circuit_.part(part).fuse.has_value();
        });
        if (fuse) answer_.cautions.emplace_back("fuse: same rating and type; smell or smoke: fuse out, battery off");
        answer_.cautions.emplace_back(makers_procedure);
    }

    const ProofCase& of_;
    const Circuit& circuit_;
    ProofAnswer& answer_;
};

}  // namespace

void write_story(const ProofCase& of, ProofAnswer& answer) {
    StoryWriter(of, answer).write();
}

}  // namespace voltfall
