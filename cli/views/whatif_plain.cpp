#include "cli/views/plain_records.hpp"
#include "cli/views/startup_view.hpp"
#include "cli/views/whatif_view.hpp"

namespace voltfall {

namespace {

/// Every record of one circuit begins with its state and its case.
void write_figures(PlainRecords& records, const std::string& state, const std::string& which,
                   const CircuitFigures& figures) {
    const auto number = PlainRecords::number;
    for (const LoadFigures& load : figures.loads)
        records.record({"load", state, which, load.name, number(load.volts), number(load.amps), number(load.rpm),
                        std::string(word_of(load.seen))});
    for (const FuseFigures& fuse : figures.fuses)
        records.record({"fuse", state, which, fuse.name, number(fuse.amps),
                        PlainRecords::yes_no(fuse.seconds.has_value()), number(fuse.seconds),
                        PlainRecords::yes_no(fuse.open)});
    for (const PointFigure& point : figures.points)
        records.record({"point", state, which, point.name, number(point.volts)});
    for (const WireFigures& wire : figures.wires)
        records.record({"wire", state, which, wire.name, number(wire.from), number(wire.to)});
    for (const RelayFigure& relay : figures.relays) records.record({"relay", state, which, relay.name, relay.word});
    for (const std::string& joint : figures.floating) records.record({"floating", state, which, joint});
    for (const std::string& joint : figures.weak) records.record({"weak", state, which, joint});
    for (const std::string& relay : figures.holding) records.record({"holding", state, which, relay});
}

}  // namespace

std::string whatif_plain(const WhatifAnswer& answer) {
    PlainRecords records;
    for (const std::string& fault : answer.faults) records.record({"fault", fault});
    for (const WhatifState& state : answer.states) {
        write_figures(records, state.state, "healthy", state.healthy);
        write_figures(records, state.state, "faulted", state.faulted);
        for (const HeatEvent& event : state.aftermath)
            records.record({"aftermath", state.state, PlainRecords::number(event.seconds), event.what,
                            std::string(event_word(event.kind)), event.name, PlainRecords::number(event.earliest),
                            PlainRecords::number(event.latest), PlainRecords::number(event_watts(event)),
                            PlainRecords::yes_no(event.goes_on), event.otherwise});
        write_figures(records, state.state, "after", state.after);
        for (const LimitFigure& limit : state.limits)
            records.record({"limit", state.state, limit.key, limit.what, PlainRecords::number(limit.low),
                            PlainRecords::number(limit.high), limit.unit, PlainRecords::number(limit.healthy),
                            PlainRecords::number(limit.faulted)});
        if (state.lamp) {
            for (const LampSections::Short& row : state.lamp->shorts)
                for (std::size_t i = 0; i < row.millivolts.size(); ++i)
                    records.record({"lamp", state.state, state.lamp->fuse, row.fault, state.lamp->sections[i],
                                    PlainRecords::number(row.millivolts[i])});
        }
        for (const BodyHeat& heat : state.heat)
            records.record({"heat", state.state, heat.name, std::string(body_word(heat.kind)),
                            PlainRecords::number(heat.celsius), PlainRecords::number(heat.hottest),
                            PlainRecords::number(heat.limit), PlainRecords::number(heat.watts),
                            PlainRecords::number(heat.healthy_watts)});
        if (state.start) write_startup_records(records, state.state, *state.start);
    }
    for (const std::string& line : answer.not_checked) records.record({"not_checked", line});
    return records.text();
}

}  // namespace voltfall
