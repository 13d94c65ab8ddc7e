#include "engine/heat/follow.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/heat/acting_limits.hpp"
#include "engine/heat/body_report.hpp"
#include "engine/heat/breaker_cycle.hpp"
#include "engine/heat/contact_wear.hpp"
#include "engine/heat/fold_back.hpp"
#include "engine/heat/heat_values.hpp"
#include "engine/heat/heat_words.hpp"
#include "engine/heat/warm_ohms.hpp"
#include "engine/heat/wire_heat.hpp"
#include "engine/solve/fuse_types.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

/// Events nearer to each other than this share of their time happen together.
constexpr double same_moment = 1e-3;
/// A body that still makes this share of the heat that harmed it goes on burning; hot copper makes less of it.
constexpr double goes_on_share = 0.2;
/// No case has more events than this, every fuse, limiter and body at most once, nor more steps of its ohms.
constexpr std::size_t most_events = 10'000;
constexpr int most_steps = 2'000;

class Follower {
public:
    Follower(Simulator& simulator, const HeatModel& model, const State& state, std::span<const Fault> faults,
             HeatReport report, PartId edge_fuse, Edge edge)
        : simulator_(simulator),
          model_(model),
          circuit_(model.circuit()),
          state_(state),
          report_(report),
          edge_fuse_(edge_fuse),
          edge_(edge),
          faults_(faults.begin(), faults.end()),
          fuses_(circuit_.parts.size()),
          closings_(circuit_.parts.size(), 0),
          contacts_(model.contacts()),
          limits_(model),
          celsius_(model.bodies().size()),
          hottest_(model.bodies().size()),
          harmed_(model.bodies().size(), false),
          none_(model.bodies().size(), false) {
        for (std::size_t i = 0; i < celsius_.size(); ++i) hottest_[i] = celsius_[i] = model.bodies()[i].ambient;
    }

    AftermathResult run(double seconds, std::span<const PartId> opened) {
        for (const PartId part : opened) {
            if (std::find(state_.fitted_new.begin(), state_.fitted_new.end(), part) == state_.fitted_new.end())
                opened_.push_back(part);
        }
        SettleResult start = settle(simulator_, circuit_, state_, faults_, opened_);
        if (!start) return tl::unexpected(start.error());
        Aftermath aftermath{std::move(*start), {}, std::nullopt, {}, {}, seconds};
        now_ = &aftermath.faulted;
        if (report_ != HeatReport::quick) warm_.emplace(model_, aftermath.faulted, ohms_step());
        if (auto lost = adapt_ohms()) return tl::unexpected(*std::move(lost));
        for (int steps = 0; aftermath.events.size() < most_events && steps < most_steps; ++steps) {
            const std::vector<HeatEvent> next = next_events();
            const double step = next.empty() ? seconds - clock_ : std::min(next.front().seconds, seconds - clock_);
            const bool over = next.empty() || clock_ + next.front().seconds > seconds;
            warm(step);
            clock_ += step;
            if (over) break;
            if (happen(next, aftermath)) {
                if (auto lost = settle_anew()) return tl::unexpected(*std::move(lost));
            }
            if (auto lost = adapt_ohms()) return tl::unexpected(*std::move(lost));
        }
        if (changed_) aftermath.after = *now_;
        aftermath.opened = opened_;
        mark_what_goes_on(aftermath);
        if (report_ == HeatReport::bodies)
            report_bodies(model_, settle(simulator_, circuit_, state_, {}), {celsius_, hottest_}, aftermath);
        return aftermath;
    }

private:
    /// The faults, and the ohms that warmth has added.
    std::vector<Fault> faults_now() const {
        std::vector<Fault> faults = faults_;
        if (const auto ohms = warm_ ? warm_->as_fault() : std::nullopt) faults.push_back(*ohms);
        return faults;
    }

    /// Settles the case as it stands; what is lost otherwise.
    std::optional<SolveFailure> settle_anew() {
        const std::vector<Fault> faults = faults_now();
        SettleResult settled = settle(simulator_, circuit_, state_, faults, opened_);
        if (!settled) return settled.error();
        latest_ = std::move(*settled);
        now_ = &*latest_;
        if (!cycling_) return std::nullopt;
        std::vector<PartId> but_the_breaker = opened_;
        std::erase(but_the_breaker, cycling_->breaker);
        SettleResult closed = settle(simulator_, circuit_, state_, faults, but_the_breaker);
        if (!closed) return closed.error();
        cycling_->closed = std::move(*closed);
        cycling_->choose_share(model_of(cycling_->breaker.index));
        return std::nullopt;
    }

    /// Where only events are asked, coarser steps do, and what is harmed has had its event.
    double ohms_step() const { return report_ == HeatReport::bodies ? 0.02 : 0.05; }
    const std::vector<bool>& left_out() const { return report_ == HeatReport::bodies ? none_ : harmed_; }

    /// Chooses the ohms for the temperatures to come, and settles anew where they have changed.
    std::optional<SolveFailure> adapt_ohms() {
        if (!warm_ || !warm_->choose(carrying(), celsius_, left_out())) return std::nullopt;
        return settle_anew();
    }

    double fuse_amps(const Settled& at, const Part& part) const {
        const double amps = at.point.amps[part.fuse->element.index];
        return std::isfinite(amps) ? std::abs(amps) : 0.0;
    }

    FuseModel model_of(std::size_t part) const {
        const Edge edge = edge_fuse_.valid() && part == edge_fuse_.index ? edge_ : Edge::typical;
        return fuse_model(type_of(*circuit_.parts[part].fuse), now_->network.ratings[part], edge,
                          heat_value(circuit_, "ambient_fuse"));
    }

    bool can_open(std::size_t part) const {
        const Part& fuse = circuit_.parts[part];
        return fuse.fuse && !now_->network.at(fuse.fuse->element).open;
    }

    /// Open, and will close when it has cooled? Each is followed through one closing: then it goes on so.
    bool will_close(std::size_t part) const {
        const bool open =
            std::find(opened_.begin(), opened_.end(), PartId{static_cast<std::uint32_t>(part)}) != opened_.end();
        return open && circuit_.parts[part].has_flag("resets") && closings_[part] == 0;
    }

    /// A body's heat; behind a breaker that cycles its mean.
    LinearHeat heat_of(const Body& body) const {
        return cycling_ ? cycling_->heat(model_, body, *now_) : model_.heat(body, *now_);
    }
    double watts_of(const Body& body) const {
        return cycling_ ? cycling_->watts(model_, body, *now_) : model_.watts(body, *now_);
    }
    const Settled& carrying() const { return cycling_ ? cycling_->closed : *now_; }
    double carrying_share() const { return cycling_ ? cycling_->share : 1; }

    void add_closings(std::vector<HeatEvent>& events) const {
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
            if (!will_close(i)) continue;
            HeatEvent event;
            event.kind = HeatEventKind::breaker_closes;
            event.part = {i};
            event.name = circuit_.parts[i].name;
            event.seconds = seconds_to_cool(model_of(i), fuses_[i], default_value("breaker_recloses"));
            event.what = event.name + " has cooled and closes again";
            events.push_back(event);
        }
    }

    void add_openings(std::vector<HeatEvent>& events) const {
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
            if (!can_open(i)) continue;
            const double amps = fuse_amps(*now_, circuit_.parts[i]);
            const auto due = seconds_to_open(model_of(i), fuses_[i], amps);
            if (!due) continue;
            HeatEvent event;
            event.kind = HeatEventKind::fuse_opens;
            event.seconds = *due;
            event.part = {i};
            event.name = circuit_.parts[i].name;
            event.amps = amps;
            event.what = event.name +
                         (closings_[i] == 0 ? " opens" : " opens again, and so on for as long as the current flows");
            if (!changed_) {
                const FuseBand band = fuse_band(type_of(*circuit_.parts[i].fuse), now_->network.ratings[i], amps,
                                                heat_value(circuit_, "ambient_fuse"));
                // The band is that of a constant current; a current that falls takes longer.
                event.earliest = band.earliest;
                if (band.latest) event.latest = std::max(*band.latest, clock_ + *due);
            }
            events.push_back(event);
        }
    }

    void add_bodies(std::vector<HeatEvent>& events) const {
        for (std::size_t i = 0; i < celsius_.size(); ++i) {
            const Body& body = model_.bodies()[i];
            if (limits_.waits(i)) {
                if (const auto due = reach(i, body.limit)) events.push_back(event_of(i, *due, body.limit));
            }
            limits_.add_run_again(i, heat_of(body), celsius_[i], events);
            if (!harmed_[i]) {
                if (const auto due = reach(i, body.harmed_at)) events.push_back(event_of(i, *due, body.harmed_at));
            }
            const auto until = warm_ ? warm_->until(i) : std::nullopt;
            const auto due = until ? reach(i, *until) : std::nullopt;
            if (!due) continue;
            HeatEvent event;
            event.kind = HeatEventKind::warms;
            event.seconds = *due;
            events.push_back(event);
        }
    }

    /// The first things to happen, with the seconds from now.
    std::vector<HeatEvent> next_events() const {
        std::vector<HeatEvent> events;
        add_closings(events);
        add_openings(events);
        add_bodies(events);
        const bool ends_soon = std::any_of(events.begin(), events.end(), [](const HeatEvent& event) {
            return event.kind == HeatEventKind::fuse_opens && event.seconds <= fuse_in_time;
        });
        if (!ends_soon) contacts_.add_events(carrying(), carrying_share(), events);
        if (events.empty()) return events;
        std::stable_sort(events.begin(), events.end(),
                         [](const HeatEvent& a, const HeatEvent& b) { return a.seconds < b.seconds; });
        const double first = events.front().seconds;
        std::erase_if(events, [&](const HeatEvent& event) { return event.seconds > first * (1 + same_moment); });
        return events;
    }

    /// A wire whose current would harm it within seconds is in a short; any other sheds heat to the air.
    bool in_short(std::size_t i) const {
        const Body& body = model_.bodies()[i];
        if (body.kind != BodyKind::wire || cycling_) return false;
        const auto harmed = wire_seconds_to_reach(body, model_.amps(body, *now_), celsius_[i], body.harmed_at);
        return harmed && *harmed > 0 && *harmed <= short_circuit_seconds;
    }

    std::optional<double> reach(std::size_t i, double celsius) const {
        const Body& body = model_.bodies()[i];
        if (in_short(i)) return wire_seconds_to_reach(body, model_.amps(body, *now_), celsius_[i], celsius);
        return seconds_to_reach(heat_of(body), celsius_[i], celsius);
    }

    HeatEvent event_of(std::size_t i, double seconds, double celsius) const {
        const Body& body = model_.bodies()[i];
        HeatEvent event;
        event.seconds = seconds;
        event.part = body.part;
        event.name = body.name;
        event.watts = watts_of(body);
        event.amps = model_.amps(body, carrying());
        event.body = body.kind;
        if (cycling_) event.cycling = cycling_->share;
        if (limits_.waits(i) && celsius == body.limit) {
            event.kind = limit_event(body);
            event.name = circuit_.part(body.part).name;
            event.what =
                limits_.has_run_again(body.part) ? cuts_out_again_words(event.name) : limit_words(body, event.name);
            return event;
        }
        event.what = fmt::format("{} reaches {:.0f} C{}", body.name, celsius, harm_of(body.kind));
        if (limits_.waits(i)) event.what += before_limit_words(body);
        return event;
    }

    double temperature_of(std::size_t i, double seconds) const {
        const Body& body = model_.bodies()[i];
        if (in_short(i)) return wire_temperature_after(body, model_.amps(body, *now_), celsius_[i], seconds);
        return temperature_after(heat_of(body), celsius_[i], seconds);
    }

    void warm(double seconds) {
        for (std::size_t i = 0; i < fuses_.size(); ++i) {
            const bool closed = can_open(i);
            if (!closed && !will_close(i)) continue;
            const double amps = closed ? fuse_amps(*now_, circuit_.parts[i]) : 0;
            fuses_[i] = heat_after(model_of(i), fuses_[i], amps, seconds);
        }
        contacts_.wear(carrying(), carrying_share(), seconds);
        for (std::size_t i = 0; i < celsius_.size(); ++i) {
            celsius_[i] = std::min(temperature_of(i, seconds), copper_melts_celsius);
            if (const auto least = limits_.cools_to(i)) celsius_[i] = std::max(celsius_[i], *least);
            hottest_[i] = std::max(hottest_[i], celsius_[i]);
        }
    }

    /// True when the circuit has changed.
    bool happen(const std::vector<HeatEvent>& events, Aftermath& aftermath) {
        bool changed = false;
        for (HeatEvent event : events) {
            if (event.kind == HeatEventKind::warms || !mark(event)) continue;
            changed |= event.kind != HeatEventKind::harmed;
            event.seconds = clock_;
            aftermath.events.push_back(event);
        }
        changed_ |= changed;
        return changed;
    }

    /// Keeps that it has happened; false when the other half of a wire has had it before.
    bool mark(const HeatEvent& event) {
        if (event.kind == HeatEventKind::fuse_opens) {
            if (closings_[event.part.index] > 0 && !cycling_) cycling_ = BreakerCycle{event.part, *now_, 0};
            opened_.push_back(event.part);
            std::erase(state_.fitted_new, event.part);
            return true;
        }
        if (event.kind == HeatEventKind::breaker_closes) {
            std::erase(opened_, event.part);
            ++closings_[event.part.index];
            return true;
        }
        if (acts_at_limit(event.kind)) {
            limit(event.part);
            return true;
        }
        if (event.kind == HeatEventKind::runs_again) {
            const std::vector<ModePtr>& cut_out = model_.limiter_modes(event.part);
            std::erase_if(faults_, [&](const Fault& fault) {
                return std::find(cut_out.begin(), cut_out.end(), fault.mode) != cut_out.end();
            });
            limits_.run_again(event.part);
            return true;
        }
        if (event.body == BodyKind::rating) {
            contacts_.mark(event.name);
            return true;
        }
        bool fresh = true;
        for (std::size_t i = 0; i < harmed_.size(); ++i) {
            if (model_.bodies()[i].name != event.name) continue;
            fresh &= !harmed_[i];
            harmed_[i] = true;
        }
        return fresh;
    }

    /// A limiter is open, a fan unit has cut out, or a stage gives so much less that it grows no hotter.
    void limit(PartId part) {
        limits_.act(part);
        const std::vector<Fault> limited = faults_at_limit(model_, part, [&](const Fault& more) {
            std::vector<Fault> faults = faults_now();
            faults.push_back(more);
            return settle(simulator_, circuit_, state_, faults, opened_);
        });
        faults_.insert(faults_.end(), limited.begin(), limited.end());
    }

    void mark_what_goes_on(Aftermath& aftermath) const {
        for (HeatEvent& event : aftermath.events) {
            if (event.kind != HeatEventKind::harmed) continue;
            for (const Body& body : model_.bodies()) {
                if (body.name == event.name && body.kind == event.body)
                    event.goes_on |= watts_of(body) > goes_on_share * event.watts;
            }
        }
    }

    Simulator& simulator_;
    const HeatModel& model_;
    const Circuit& circuit_;
    State state_;
    HeatReport report_;
    PartId edge_fuse_;  ///< a quick or slow part of its type stands there
    Edge edge_;
    std::vector<Fault> faults_;
    std::vector<FuseHeat> fuses_;
    std::vector<int> closings_;  ///< by part: how often it has closed again
    ContactWear contacts_;
    ActingLimits limits_;
    std::vector<double> celsius_;
    std::vector<double> hottest_;
    std::vector<bool> harmed_;
    std::vector<bool> none_;  ///< by body: false
    std::vector<PartId> opened_;
    std::optional<WarmOhms> warm_;
    std::optional<BreakerCycle> cycling_;
    const Settled* now_{nullptr};  ///< as it stands: the beginning, or `latest_`
    std::optional<Settled> latest_;
    double clock_{0};
    bool changed_{false};  ///< something has opened, so that the currents are not those of the start
};

}  // namespace

AftermathResult follow(const HeatCase& of, double seconds, std::span<const PartId> opened, HeatReport report,
                       PartId edge_fuse, Edge edge) {
    return Follower(of.simulator, of.model, of.state, of.faults, report, edge_fuse, edge).run(seconds, opened);
}

}  // namespace voltfall
