#include "engine/heat/aftermath.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/heat/heat_values.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

/// Events nearer to each other than this share of their time happen together.
constexpr double same_moment = 1e-3;
/// Copper melts (reference wires W5): no body is followed beyond.
constexpr double most_celsius = 1083;
/// A body that still makes this share of the heat that harmed it goes on burning.
constexpr double goes_on_share = 0.5;
/// No case has more events than this: every fuse, limiter and body at most once.
constexpr std::size_t most_events = 10'000;

class Follower {
public:
    Follower(Simulator& simulator, const HeatModel& model, const State& state, std::span<const Fault> faults,
             HeatReport report)
        : simulator_(simulator),
          model_(model),
          circuit_(model.circuit()),
          state_(state),
          report_(report),
          faults_(faults.begin(), faults.end()),
          fuses_(circuit_.parts.size()),
          closings_(circuit_.parts.size(), 0),
          celsius_(model.bodies().size()),
          hottest_(model.bodies().size()),
          harmed_(model.bodies().size(), false),
          limiter_open_(model.bodies().size(), false) {
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
        while (aftermath.events.size() < most_events) {
            const std::vector<HeatEvent> next = next_events(aftermath.end());
            const double step = next.empty() ? seconds - clock_ : std::min(next.front().seconds, seconds - clock_);
            const bool over = next.empty() || clock_ + next.front().seconds > seconds;
            warm(aftermath.end(), step);
            clock_ += step;
            if (over) break;
            if (!happen(next, aftermath)) continue;
            SettleResult settled = settle(simulator_, circuit_, state_, faults_, opened_);
            if (!settled) return tl::unexpected(settled.error());
            aftermath.after = std::move(*settled);
        }
        aftermath.opened = opened_;
        mark_what_goes_on(aftermath);
        if (report_ == HeatReport::bodies) report(aftermath);
        return aftermath;
    }

private:
    double fuse_amps(const Settled& now, const Part& part) const {
        const double amps = now.point.amps[part.fuse->element.index];
        return std::isfinite(amps) ? std::abs(amps) : 0.0;
    }

    FuseModel model_of(const Settled& now, std::size_t part, Edge edge) const {
        return fuse_model(*fuse_type(circuit_.parts[part].fuse->type), now.network.ratings[part], edge,
                          heat_value(circuit_, "ambient_fuse"));
    }

    bool can_open(const Settled& now, std::size_t part) const {
        const Part& fuse = circuit_.parts[part];
        return fuse.fuse && !now.network.at(fuse.fuse->element).open && now.network.ratings[part] > 0 &&
               fuse_type(fuse.fuse->type);
    }

    /// Open, and will close when it has cooled? Each is followed through one closing: then it goes on so.
    bool will_close(std::size_t part) const {
        const bool open =
            std::find(opened_.begin(), opened_.end(), PartId{static_cast<std::uint32_t>(part)}) != opened_.end();
        return open && circuit_.parts[part].has_flag("resets") && closings_[part] == 0;
    }

    void add_closings(const Settled& now, std::vector<HeatEvent>& events) const {
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
            if (!will_close(i)) continue;
            HeatEvent event;
            event.kind = HeatEventKind::breaker_closes;
            event.part = {i};
            event.name = circuit_.parts[i].name;
            event.seconds =
                seconds_to_cool(model_of(now, i, Edge::typical), fuses_[i], default_value("breaker_recloses"));
            event.what = event.name + " has cooled and closes again";
            events.push_back(event);
        }
    }

    /// The first things to happen, with the seconds from now.
    std::vector<HeatEvent> next_events(const Settled& now) const {
        std::vector<HeatEvent> events;
        add_closings(now, events);
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
            if (!can_open(now, i)) continue;
            const double amps = fuse_amps(now, circuit_.parts[i]);
            const auto due = seconds_to_open(model_of(now, i, Edge::typical), fuses_[i], amps);
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
                event.earliest = seconds_to_open(model_of(now, i, Edge::earliest), {}, amps);
                event.latest = seconds_to_open(model_of(now, i, Edge::latest), {}, amps);
            }
            events.push_back(event);
        }
        for (std::size_t i = 0; i < celsius_.size(); ++i) {
            if (harmed_[i]) continue;
            const Body& body = model_.bodies()[i];
            const auto due = seconds_to_reach(model_.heat(body, now), celsius_[i], limit_of(i));
            if (due) events.push_back(event_of(i, *due, now));
        }
        if (events.empty()) return events;
        std::stable_sort(events.begin(), events.end(),
                         [](const HeatEvent& a, const HeatEvent& b) { return a.seconds < b.seconds; });
        const double first = events.front().seconds;
        std::erase_if(events, [&](const HeatEvent& event) { return event.seconds > first * (1 + same_moment); });
        return events;
    }

    bool has_limiter(std::size_t i) const {
        const Body& body = model_.bodies()[i];
        return body.limiter && !limiter_open_[i] && !model_.limiter_modes(body.part).empty();
    }
    /// A pack whose limiter has opened, and whose coils still carry current, is harmed like one without.
    double limit_of(std::size_t i) const {
        const Body& body = model_.bodies()[i];
        return body.limiter && !has_limiter(i) ? heat_value(circuit_, "pack_limit") : body.limit;
    }

    HeatEvent event_of(std::size_t i, double seconds, const Settled& now) const {
        const Body& body = model_.bodies()[i];
        HeatEvent event;
        event.seconds = seconds;
        event.part = body.part;
        event.name = body.name;
        event.watts = model_.watts(body, now);
        event.amps = model_.amps(body, now);
        event.body = body.kind;
        const bool opens = has_limiter(i);
        if (opens) event.kind = HeatEventKind::limiter_opens;
        event.what = opens ? fmt::format("{} limiter opens at {:.0f} C", body.name, body.limit)
                           : fmt::format("{} reaches {:.0f} C{}", body.name, limit_of(i), harm_of(body.kind));
        return event;
    }

    static std::string_view harm_of(BodyKind kind) {
        switch (kind) {
            case BodyKind::pack:
                return ": it chars what holds it";
            case BodyKind::winding:
                return ": its insulation is harmed";
            case BodyKind::joint:
                return ": its plastic softens";
            case BodyKind::wire:
                return ": its insulation is harmed";
        }
        return "";
    }

    void warm(const Settled& now, double seconds) {
        for (std::size_t i = 0; i < fuses_.size(); ++i) {
            const bool closed = can_open(now, i);
            if (!closed && !will_close(i)) continue;
            const double amps = closed ? fuse_amps(now, circuit_.parts[i]) : 0;
            fuses_[i] = heat_after(model_of(now, i, Edge::typical), fuses_[i], amps, seconds);
        }
        for (std::size_t i = 0; i < celsius_.size(); ++i) {
            celsius_[i] =
                std::min(temperature_after(model_.heat(model_.bodies()[i], now), celsius_[i], seconds), most_celsius);
            hottest_[i] = std::max(hottest_[i], celsius_[i]);
        }
    }

    /// True when the circuit has changed.
    bool happen(const std::vector<HeatEvent>& events, Aftermath& aftermath) {
        bool changed = false;
        for (HeatEvent event : events) {
            if (!mark(event)) continue;
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
            opened_.push_back(event.part);
            std::erase(state_.fitted_new, event.part);
            return true;
        }
        if (event.kind == HeatEventKind::breaker_closes) {
            std::erase(opened_, event.part);
            ++closings_[event.part.index];
            return true;
        }
        if (event.kind == HeatEventKind::limiter_opens) {
            for (std::size_t i = 0; i < limiter_open_.size(); ++i)
                limiter_open_[i] =
                    limiter_open_[i] || (model_.bodies()[i].limiter && model_.bodies()[i].part == event.part);
            for (const ModePtr& mode : model_.limiter_modes(event.part)) faults_.push_back(Fault{mode, 0, 0.5, {}, {}});
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

    void mark_what_goes_on(Aftermath& aftermath) const {
        for (HeatEvent& event : aftermath.events) {
            if (event.kind != HeatEventKind::harmed) continue;
            for (const Body& body : model_.bodies()) {
                if (body.name == event.name && body.kind == event.body)
                    event.goes_on |= model_.watts(body, aftermath.end()) > goes_on_share * event.watts;
            }
        }
    }

    void report(Aftermath& aftermath) const {
        const SettleResult healthy = settle(simulator_, circuit_, state_, {});
        for (std::size_t i = 0; i < celsius_.size(); ++i) {
            const Body& body = model_.bodies()[i];
            BodyHeat heat{body.name, body.kind, celsius_[i], hottest_[i], body.limit, body.ambient, 0, 0};
            heat.watts = model_.watts(body, aftermath.faulted);
            heat.healthy_watts = healthy ? model_.watts(body, *healthy) : 0;
            auto known = std::find_if(aftermath.bodies.begin(), aftermath.bodies.end(),
                                      [&](const BodyHeat& other) { return other.name == body.name; });
            if (known == aftermath.bodies.end()) {
                aftermath.bodies.push_back(heat);
            } else if (heat.hottest > known->hottest) {
                *known = heat;
            }
        }
        std::stable_sort(aftermath.bodies.begin(), aftermath.bodies.end(), [](const BodyHeat& a, const BodyHeat& b) {
            return a.hottest / a.limit > b.hottest / b.limit;
        });
    }

    Simulator& simulator_;
    const HeatModel& model_;
    const Circuit& circuit_;
    State state_;
    HeatReport report_;
    std::vector<Fault> faults_;
    std::vector<FuseHeat> fuses_;
    std::vector<int> closings_;  ///< by part: how often it has closed again
    std::vector<double> celsius_;
    std::vector<double> hottest_;
    std::vector<bool> harmed_;
    std::vector<bool> limiter_open_;  ///< by body
    std::vector<PartId> opened_;
    double clock_{0};
    bool changed_{false};  ///< something has opened, so that the currents are not those of the start
};

}  // namespace

AftermathResult run_aftermath(Simulator& simulator, const HeatModel& model, const State& state,
                              std::span<const Fault> faults, double seconds, std::span<const PartId> opened,
                              HeatReport report) {
    return Follower(simulator, model, state, faults, report).run(seconds, opened);
}

}  // namespace voltfall
