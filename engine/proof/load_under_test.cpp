#include "engine/proof/load_under_test.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/figures/limits.hpp"
#include "engine/readings/rounding.hpp"
#include "netlists/graph/paths.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/leads.hpp"

namespace voltfall {

namespace {

/// General limits under load, where the file names none: 0.5 V over a feed of high current, 0.1 V over a ground (the
/// trade's guidance, D1-D5 of the notes on fuses and wires); the maker's figures win.
constexpr double general_feed_volts = 0.5;
constexpr double general_ground_volts = 0.1;
/// A wire carries the load's current where the two differ by less than this share.
constexpr double same_current = 0.03;

using JointSet = std::vector<JointId>;

bool has(const JointSet& set, JointId joint) {
    return std::find(set.begin(), set.end(), joint) != set.end();
}
bool any_of_point(const JointSet& set, const Point& point) {
    return std::any_of(point.joints.begin(), point.joints.end(), [&](JointId joint) { return has(set, joint); });
}

}  // namespace

/// One load in its hardest position, and the readings taken in it.
class LoadUnderTest::Readings {
public:
    Readings(const ProofCase& of, const ConcernedLoad& load, const ConcernedLoad::Position& position)
        : of_(of), circuit_(of.circuit), load_(load.part), position_(position) {
        for (const JudgedReading& judged : of.after.judged()) {
            if (!of.after.stands_in(judged, position.state)) continue;
            here_.push_back(&judged);
        }
        for (const JudgedReading& judged : of.before.judged())
            if (of.before.stands_in(judged, position.state)) was_.push_back(&judged);
        find_ways();
    }

    bool solved() const { return sound_.has_value(); }

    ProofCheck supply() const {
        ProofCheck check{.sort = CheckSort::supply, .what = "supply at " + state_name()};
        check.closes = supply_test();
        check.why = "what was read under load cannot be held against a limit without it";
        if (const auto volts = supply_volts()) {
            check.result = CheckResult::passed;
            check.after = as_meter(*volts, false);
            check.why.clear();
        }
        return check;
    }

    ProofCheck amps() const {
        ProofCheck check{.sort = CheckSort::amps, .what = "amps of " + name() + " at " + state_name()};
        const Limit* limit = amps_limit(circuit_, position_.state, load_);
        if (limit != nullptr) check.limit = limit_text(*limit);
        if (const auto before = amps_read(of_.before, was_)) check.before = as_meter(before->first, true);
        const auto read = amps_read(of_.after, here_);
        if (!read) {
            check.why = "no current was read under load since the repair";
            check.closes = amps_test();
            return check;
        }
        check.after = as_meter(read->first, true);
        if (limit != nullptr && !of_.after.supply_read(*read->second)) {
            check.why = "at which supply is not known: key and battery volts belong to it";
            check.closes = supply_volts() ? amps_test() : supply_test();
            return check;
        }
        judge_amps(check, *read->second, limit);
        return check;
    }

    ProofCheck feed() const {
        const double limit = limit_of("feed", general_feed_volts, sound_drop(plus_, feed_end_) - by_design_);
        ProofCheck check{.sort = CheckSort::feed, .what = "feed of " + name() + " at " + state_name()};
        const double allowed = limit + by_design_;
        check.limit = fmt::format("{} at most", as_meter(allowed, false));
        if (const auto before = drop_over_feed(of_.before, was_)) check.before = as_meter(*before, false);
        judge_drop(check, drop_over_feed(of_.after, here_), {allowed, by_design_},
                   "no drop from battery plus to the load was read");
        if (check.result != CheckResult::passed) {
            check.closes = test(VoltsTest{{point_of(feed_end_), minus()}, {}});
            if (!supply_volts()) check.closes = test(VoltsTest{{plus(), point_of(feed_end_)}, {}});
        }
        return check;
    }

    /// Nothing where no ground lies in the load's way.
    std::optional<ProofCheck> ground() const {
        if (grounds_.empty()) return std::nullopt;
        const double limit = limit_of("ground", general_ground_volts, sound_drop(grounds_, {circuit_.reference}));
        ProofCheck check{.sort = CheckSort::ground, .what = "ground " + ground_name_ + " at " + state_name()};
        check.limit = fmt::format("{} at most", as_meter(limit, false));
        if (const auto before = drop_over_ground(was_, limit)) check.before = as_meter(*before, false);
        judge_drop(check, drop_over_ground(here_, limit), {limit, 0},
                   "no drop from the ground to battery minus was read");
        if (check.result != CheckResult::passed)
            check.closes = test(VoltsTest{{point_at(circuit_, stud_), minus()}, {}});
        return check;
    }

private:
    std::string name() const { return circuit_.part(load_).name; }
    std::string state_name() const {
        StatePhrase phrase = position_.phrase;
        if (!phrase.settings.empty()) phrase.key.reset();
        return write_state(circuit_, phrase);
    }
    std::string test(const Tested& tested) const { return test_in(circuit_, position_.phrase, tested); }
    /// The battery's posts, whatever it is called.
    Point plus() const { return point_at(circuit_, post()); }
    Point minus() const { return point_at(circuit_, circuit_.reference); }
    JointId post() const { return circuit_.part(circuit_.battery).pins.at("+"); }
    std::string supply_test() const { return test(VoltsTest{{plus(), minus()}, {}}); }
    Point point_of(const JointSet& joints) const {
        for (const JointId joint : joints)
            if (circuit_.joint(joint).access == Access::open) return {{joint}, circuit_.joint(joint).name};
        return {{joints.front()}, circuit_.joint(joints.front()).name};
    }

    void find_ways() {
        SettleResult sound = settle(of_.simulator, circuit_, position_.state, {});
        if (!sound) return;
        sound_ = *std::move(sound);
        const LoadPath way = load_path(sound_->network, load_);
        const Part& part = circuit_.part(load_);
        double highest = -std::numeric_limits<double>::infinity();
        for (const auto& [terminal, pin] : part.pins) {
            if (sound_->point.volts[pin.index] <= highest) continue;
            highest = sound_->point.volts[pin.index];
            feed_end_ = {part.harness.at(terminal), pin};
        }
        for (const auto& [terminal, pin] : part.pins) {
            if (has(feed_end_, pin)) continue;
            back_end_.push_back(part.harness.at(terminal));
            back_end_.push_back(pin);
        }
        plus_ = {circuit_.bus_30, post()};
        for (const BranchId id : way.feed) {
            const PartId owner = circuit_.branch(id).part;
            if (!owner.valid() || owner == load_ || !drops_by_design(circuit_.part(owner))) continue;
            const NetworkBranch& at = sound_->network.at(id);
            by_design_ += std::abs(sound_->point.volts[at.a.index] - sound_->point.volts[at.b.index]);
        }
        for (const BranchId id : way.back) add_ground(circuit_.branch(id).part);
    }

    /// Volts between two places of the sound circuit under this load.
    double sound_drop(const JointSet& from, const JointSet& to) const {
        return sound_->point.volts[from.at(0).index] - sound_->point.volts[to.at(0).index];
    }

    /// The file's own limit; else the general one, but no less than what wires of that size and length lose when sound.
    double limit_of(std::string_view key, double general, double sound) const {
        constexpr double margin = 1.25;  // of lengths and contacts as typed, ASSUMED
        return drop_limit(circuit_, key).value_or(std::max(general, margin * sound));
    }

    void add_ground(PartId part) {
        if (!part.valid() || !joins(circuit_.part(part), Joining::metal)) return;
        const Part& ground = circuit_.part(part);
        ground_name_ = ground.name;
        stud_ = ground.harness.at("");
        grounds_.push_back(stud_);
    }

    std::optional<double> supply_volts() const { return supply_of(of_.after, here_); }
    std::optional<double> supply_of(const StageReadings& stage,
                                    const std::vector<const JudgedReading*>& readings) const {
        for (const JudgedReading* judged : readings)
            if (const auto volts = stage.supply_read(*judged)) return volts;
        return std::nullopt;
    }

    /// The load's current as a clamp read it, and the reading.
    std::optional<std::pair<double, const JudgedReading*>> amps_read(
        const StageReadings& stage, const std::vector<const JudgedReading*>& readings) const {
        std::optional<std::pair<double, const JudgedReading*>> found;
        for (const JudgedReading* judged : readings) {
            const auto* amps = std::get_if<AmpsReading>(&judged->reading->measurement);
            if (amps == nullptr || !judged->read || !carries(stage.sound_at(*judged), amps->wire)) continue;
            found = {std::abs(*judged->read), judged};
        }
        return found;
    }

    bool carries(const Settled& sound, WireId wire) const {
        const double own = std::abs(sound.point.amps[circuit_.part(load_).load_branch.index]);
        return own > 0 && std::abs(std::abs(wire_amps(sound, wire).from) - own) < same_current * own;
    }

    /// The nearest wire that carries the load's current, in the order of the file.
    std::string amps_test() const {
        for (std::size_t i = 0; i < circuit_.wires.size(); ++i) {
            const WireId wire{static_cast<std::uint32_t>(i)};
            if (carries(*sound_, wire)) return test(AmpsTest{wire, {}});
        }
        return "the current of " + name() + ", loaded";
    }

    static std::string limit_text(const Limit& limit) {
        std::string text = limit.low > 0 && limit.low < limit.high
                               ? fmt::format("{:g} to {:g} A", limit.low, limit.high)
                               : fmt::format("{:g} A at most", limit.high);
        if (limit.at_volts > 0) text += fmt::format(" at {:g} V", limit.at_volts);
        return text;
    }

    void judge_amps(ProofCheck& check, const JudgedReading& judged, const Limit* limit) const {
        if (limit == nullptr) {
            check.result = judged.sound ? CheckResult::passed : CheckResult::failed;
            check.limit = "about " + as_meter(std::abs(judged.expected), true) + " (nameplate)";
            return;
        }
        const Parameter* nameplate = circuit_.part(load_).parameter("rated volts");
        const double volts = limit->at_volts > 0 ? limit->at_volts : nameplate != nullptr ? nameplate->value : 0;
        double corrected = std::abs(*judged.read);
        if (volts > 0 && std::abs(judged.expected) > 0) {
            const auto there = sound_amps_at(of_.simulator, circuit_, position_.state, load_, volts);
            if (there) corrected *= *there / std::abs(judged.expected);
            check.why = fmt::format("{} at {:g} V", as_meter(corrected, true), volts);
        }
        const bool low = limit->low < limit->high && corrected < limit->low;
        check.result = corrected <= limit->high && !low ? CheckResult::passed : CheckResult::failed;
        if (check.result == CheckResult::failed) {
            check.why += low ? ": too little" : ": too much";
            check.closes = amps_test();
        }
    }

    struct DropLimit {
        double volts{};
        double by_design{};  ///< of it, what a pack or a module in the way takes
    };

    static void judge_drop(ProofCheck& check, std::optional<double> drop, const DropLimit& limit,
                           std::string_view open) {
        if (!drop) {
            check.why = open;
            return;
        }
        check.after = as_meter(*drop, false);
        check.limit_used = (*drop - limit.by_design) / (limit.volts - limit.by_design);
        constexpr double last_digit = 0.005;  // what a meter shows as the limit is the limit
        check.result = *drop <= limit.volts + last_digit ? CheckResult::passed : CheckResult::failed;
        if (check.result == CheckResult::failed) check.why = "too much is lost on the way";
    }

    /// Volts between two sets of joints, read at once or as the difference of two readings to battery minus.
    std::optional<double> drop_over_feed(const StageReadings& stage,
                                         const std::vector<const JudgedReading*>& readings) const {
        std::optional<double> drop;
        for (const JudgedReading* judged : readings) {
            const auto* volts = std::get_if<VoltsReading>(&judged->reading->measurement);
            if (volts == nullptr || !judged->read) continue;
            const bool forth = any_of_point(plus_, volts->red) && any_of_point(feed_end_, volts->black);
            const bool back = any_of_point(plus_, volts->black) && any_of_point(feed_end_, volts->red);
            if (forth || back) drop = std::abs(*judged->read);
            const auto supply = supply_of(stage, readings);
            if (any_of_point(feed_end_, volts->red) && to_minus(*volts) && supply)
                drop = std::max(*supply - *judged->read, 0.0);
        }
        return drop;
    }

    bool to_minus(const VoltsReading& volts) const { return any_of_point({circuit_.reference}, volts.black); }

    /// The ground alone, or the load's whole way back where that already stays within the limit.
    std::optional<double> drop_over_ground(const std::vector<const JudgedReading*>& readings, double limit) const {
        std::optional<double> drop;
        std::optional<double> whole;
        for (const JudgedReading* judged : readings) {
            const auto* volts = std::get_if<VoltsReading>(&judged->reading->measurement);
            if (volts == nullptr || !judged->read || !to_minus(*volts)) continue;
            if (any_of_point(grounds_, volts->red)) drop = std::abs(*judged->read);
            if (any_of_point(back_end_, volts->red)) whole = std::abs(*judged->read);
        }
        if (drop) return drop;
        return whole && *whole <= limit ? whole : std::nullopt;
    }

    const ProofCase& of_;
    const Circuit& circuit_;
    PartId load_;
    const ConcernedLoad::Position& position_;
    std::vector<const JudgedReading*> here_;
    std::vector<const JudgedReading*> was_;
    std::optional<Settled> sound_;
    JointSet feed_end_;
    JointSet back_end_;
    JointSet plus_;
    JointSet grounds_;
    std::string ground_name_;
    JointId stud_;  ///< of that ground
    double by_design_{0};
};

LoadUnderTest::LoadUnderTest(const ProofCase& of, const ConcernedLoad& load, const ConcernedLoad::Position& position)
    : readings_(std::make_unique<Readings>(of, load, position)) {}
LoadUnderTest::~LoadUnderTest() = default;

bool LoadUnderTest::solved() const {
    return readings_->solved();
}
ProofCheck LoadUnderTest::supply() const {
    return readings_->supply();
}
ProofCheck LoadUnderTest::amps() const {
    return readings_->amps();
}
ProofCheck LoadUnderTest::feed() const {
    return readings_->feed();
}
std::optional<ProofCheck> LoadUnderTest::ground() const {
    return readings_->ground();
}

}  // namespace voltfall
