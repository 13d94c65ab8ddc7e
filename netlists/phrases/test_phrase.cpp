#include "netlists/phrases/test_phrase.hpp"

#include "netlists/phrases/parses.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/tested.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

/// Both halves of a cavity by its name, both pieces of a chain by its number.
std::string write_point(const Circuit& circuit, const Point& point) {
    if (point.joints.empty()) return "?";
    const std::string& name = circuit.joint(point.joints.front()).name;
    if (point.joints.size() == 1) return name;
    for (const char end : {'@', ':'}) {
        const std::string shared = name.substr(0, name.find(end));
        if (joints_named(circuit, shared) == point.joints) return shared;
    }
    return point.text;
}

/// The phrase of what is tested, kind by kind.
class Writer {
public:
    explicit Writer(const Circuit& circuit) : circuit_(circuit) {}

    std::string operator()(const VoltsTest& t) const { return t.across.empty() ? leads(t) : "across " + t.across; }
    std::string operator()(const OhmsTest& t) const { return "ohms " + leads(t); }
    std::string operator()(const AmpsTest& t) const {
        return "clamp " + circuit_.wire(t.wire).name + (t.what.empty() ? "" : " " + t.what);
    }
    std::string operator()(const LampTest& t) const { return "lamp " + leads(t); }
    std::string operator()(const BeepTest& t) const { return "beep " + leads(t); }
    std::string operator()(const HeatTest& t) const { return t.place + (t.rise ? " rise" : " temp"); }
    std::string operator()(const HotterTest& t) const { return t.hotter + " hotter " + t.colder; }
    std::string operator()(const LoadTest& t) const { return t.called.empty() ? name(t.part) : t.called; }
    std::string operator()(const AirTest&) const { return "air"; }
    std::string operator()(const RelayTest& t) const { return "relay " + name(t.part); }
    std::string operator()(const FuseTest& t) const { return "fuse " + name(t.part); }
    std::string operator()(const RatingTest& t) const { return "fuse " + name(t.part) + " rating"; }
    std::string operator()(const LookTest& t) const { return "look " + t.place; }
    std::string operator()(const DragTest& t) const { return "pin " + t.place + " drag"; }
    std::string operator()(const RippleTest& t) const { return "ripple " + name(t.part); }
    std::string operator()(const SmellTest& t) const { return "smell " + t.place; }
    std::string operator()(const DutyTest& t) const { return write_point(circuit_, t.point) + " duty"; }
    std::string operator()(const QuantityTest& t) const {
        if (!t.part.valid())
            return std::string("gas pressure") + (t.side == GasSide::low    ? " low side"
                                                  : t.side == GasSide::high ? " high side"
                                                                            : "");
        const auto& quantity = circuit_.part(t.part).moved_by;
        return name(t.part) + (quantity && quantity->unit == Unit::celsius ? " temp" : " pressure");
    }
    std::string operator()(const NoTest&) const { return {}; }

private:
    std::string leads(const Leads& leads) const {
        return write_point(circuit_, leads.red) + " to " + write_point(circuit_, leads.black);
    }
    const std::string& name(PartId part) const { return circuit_.part(part).name; }

    const Circuit& circuit_;
};

}  // namespace

std::optional<Test> read_test_phrase(const TypedText& phrase, const Circuit& circuit, Problems& problems) {
    const TypedText plain{without_note(phrase), phrase.place};
    if (plain.text.empty()) {
        problems.error(ProblemCode::empty_phrase, phrase.place, "the test is empty", "for example hi  M1.1 to B1-");
        return std::nullopt;
    }
    const WhatReader<Tested> read = [&](WordReader& words, const StatePhrase&) { return read_tested(words, circuit); };
    auto found = only_parse(plain, circuit, read, "test", problems);
    if (!found) return std::nullopt;
    return Test{std::move(found->state), std::move(*found->what)};
}

std::string write_tested(const Circuit& circuit, const Tested& tested) {
    return std::visit(Writer(circuit), tested);
}

std::string write_test(const Circuit& circuit, const Test& test) {
    const std::string state = write_state(circuit, test.state);
    return (state.empty() ? "" : state + "  ") + write_tested(circuit, test.tested);
}

bool is_bench_test(const Tested& tested) {
    return leads_of(tested) || std::holds_alternative<AmpsTest>(tested) || std::holds_alternative<LoadTest>(tested) ||
           std::holds_alternative<RelayTest>(tested) || std::holds_alternative<FuseTest>(tested) ||
           std::holds_alternative<LookTest>(tested) || std::holds_alternative<RatingTest>(tested) ||
           std::holds_alternative<QuantityTest>(tested);
}

}  // namespace voltfall
