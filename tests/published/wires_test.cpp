// Published figures of wires and their insulation. Each source stands beside its check.
#include <cmath>

#include "netlists/tables/insulation.hpp"
#include "netlists/tables/wires.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

struct Row {
    double size;
    double value;
};

/// Circular mils of an area; one is the area of a circle of 0.001 inch.
double circular_mils(double mm2) {
    return mm2 / (std::acos(-1.0) / 4 * 0.0254 * 0.0254);
}

}  // namespace

TEST_CASE("round AWG wire has the published diameter and ohms (E1, AWG rows)") {
    // ASTM B258-02 formula (liquisearch.com/american_wire_gauge/formula) and IACS copper 1.7241e-8 ohm.m.
    CHECK(awg_diameter_mm(18) == Approx(1.0237).epsilon(1e-4));
    CHECK(awg_diameter_mm(14) == Approx(1.6277).epsilon(1e-4));
    CHECK(awg_diameter_mm(-3) == Approx(11.684).epsilon(1e-4));
    const auto round_ohms = [](double gauge) {
        const double d = awg_diameter_mm(gauge);
        return copper_ohm_per_metre(std::acos(-1.0) / 4 * d * d) * 1000;
    };
    CHECK(round_ohms(18) == Approx(20.95).epsilon(0.001));  // E1a
    CHECK(round_ohms(14) == Approx(8.285).epsilon(0.001));  // E1b
    // daycounter.com/Calculators/AWG.phtml, mohm/m, printed to three figures: 0.5 %.
    for (const Row& row : {Row{22, 53.0}, Row{20, 33.3}, Row{18, 21.0}, Row{16, 13.2}, Row{14, 8.29}, Row{12, 5.21},
                           Row{10, 3.28}, Row{8, 2.06}, Row{6, 1.30}, Row{4, 0.815}, Row{2, 0.513}}) {
        INFO("AWG " << row.size);
        CHECK(round_ohms(row.size) == Approx(row.value).epsilon(0.005));
    }
}

TEST_CASE("copper at 70 C has the published ohms (E2)") {
    // parashieldcables.com/?p=3028: 7.41 and 12.1 ohm/km at 20 °C become 8.87 and 14.5 at 70 °C.
    CHECK(7.41 * copper_temperature_factor(70) == Approx(8.87).epsilon(0.002));
    CHECK(12.1 * copper_temperature_factor(70) == Approx(14.5).epsilon(0.002));
    CHECK(copper_temperature_factor(20) == 1);
}

TEST_CASE("metric wire has the largest ohms that ISO 6722-1 allows") {
    // github.com/chunkaiw3874/Nizing-Website, Nizing/en/flryb.aspx and flr13ya.aspx, mohm/m at 20 °C.
    for (const Row& row : {Row{0.35, 54.4}, Row{0.5, 37.1}, Row{0.75, 24.7}, Row{1, 18.5}, Row{1.5, 12.7}, Row{2, 9.42},
                           Row{2.5, 7.6}, Row{3, 6.15}, Row{4, 4.71}, Row{6, 3.14}, Row{10, 1.82}, Row{16, 1.16}}) {
        INFO(row.size << " mm2");
        CHECK(wire_ohm_per_metre(WireStandard::metric, row.size) * 1000 == Approx(row.value).epsilon(1e-12));
        // The standard's limit lies 5 to 11 % above rho / S of the nominal size (computed from the two).
        const double over = wire_ohm_per_metre(WireStandard::metric, row.size) / copper_ohm_per_metre(row.size);
        CHECK(over > 1.05);
        CHECK(over < 1.11);
    }
}

TEST_CASE("four metres of 2.5 mm2 drop 0.608 V at 20 A, 0.751 V when hot (E13)") {
    // Computed from the ISO 6722-1 row and 0.00393 per kelvin (Industrial Power Engineering Handbook p.970).
    const double cold = 4 * wire_ohm_per_metre(WireStandard::metric, 2.5) * 20;
    CHECK(cold == Approx(0.608).epsilon(0.005));
    CHECK(cold * copper_temperature_factor(80) == Approx(0.751).epsilon(0.005));
}

TEST_CASE("gauge sizes take the stranded SAE areas") {
    // delzer.com/powerproducts/ANC_CAT_003/70, circular mils; genuinedealz.com/voltage-drop-calculator.
    for (const Row& row : {Row{18, 1537}, Row{16, 2336}, Row{14, 3702}, Row{12, 5833}, Row{10, 9343}, Row{8, 14810},
                           Row{6, 24538}, Row{4, 37360}}) {
        INFO("AWG " << row.size);
        CHECK(circular_mils(wire_area_mm2(WireStandard::awg, row.size)) == Approx(row.value).epsilon(1e-9));
    }
    // The same areas with IACS copper, computed; three figures.
    for (const Row& row : {Row{18, 22.1}, Row{16, 14.6}, Row{14, 9.19}, Row{12, 5.83}, Row{10, 3.64}, Row{8, 2.30},
                           Row{6, 1.39}, Row{4, 0.911}}) {
        INFO("AWG " << row.size);
        CHECK(wire_ohm_per_metre(WireStandard::awg, row.size) * 1000 == Approx(row.value).epsilon(0.005));
    }
}

TEST_CASE("wire carries what 33 CFR 183.425 table E allows at 30 C (W20)") {
    // jamestowndistributors.com docId=84: 105 °C insulation, up to two conductors, outside engine spaces.
    const auto area = [](double gauge) {
        const double d = awg_diameter_mm(gauge);
        return std::acos(-1.0) / 4 * d * d;
    };
    for (const Row& row : {Row{18, 20}, Row{16, 25}, Row{14, 35}, Row{12, 45}, Row{10, 60}, Row{8, 80}, Row{6, 120},
                           Row{4, 160}, Row{2, 210}}) {
        INFO("AWG " << row.size);
        CHECK(wire_ampacity(area(row.size)) == Approx(row.value).epsilon(1e-9));
    }
    // Between two rows the figure lies between theirs, on the straight line of the logarithms.
    CHECK(wire_ampacity(std::sqrt(area(14) * area(12))) == Approx(std::sqrt(35.0 * 45.0)).epsilon(1e-9));
    CHECK(wire_ampacity(0.35) < 20);
    CHECK(wire_ampacity(50) > 210);
}

TEST_CASE(
    "insulation on hot metal by the slab of reference parts 4.1 (DERIVED, constants from MEMORY: a check of the "
    "form)") {
    // Wall 0.7 mm, from 40 C, melting at 160 C: 2.5, 1.5, 1.1 and 0.72 s at 200, 250, 300 and 400 C.
    CHECK(melt_through_seconds(200, 40, 160, 0.7) == Approx(2.5).epsilon(0.03));
    CHECK(melt_through_seconds(250, 40, 160, 0.7) == Approx(1.5).epsilon(0.03));
    CHECK(melt_through_seconds(300, 40, 160, 0.7) == Approx(1.1).epsilon(0.04));
    CHECK(melt_through_seconds(400, 40, 160, 0.7) == Approx(0.72).epsilon(0.03));
    CHECK(std::isinf(melt_through_seconds(150, 40, 160, 0.7)));
}

TEST_CASE("current that melts a copper wire (E4, E5, E18, and parts E9)") {
    // E4, Onderdonk: 23.93 circular mils, 1 s, 22 C, melting at 1084.62 C: 3.5147 A (a calculator's manual, p.16, as
    // kept in the tests of the public pcb-toolkit).
    const double mil = circular_mils(1);
    CHECK(melting_amps(23.93 / mil, 1, 22, 1084.62) == Approx(3.5147).epsilon(1e-3));
    // E5, Preece: 0.0403 in melts at 82.88 A (FOSSEE Scilab companion 2534, example 1.3; result DERIVED), 1 mm at 80 A.
    CHECK(long_melting_amps(0.0403 * 25.4) == Approx(82.88).epsilon(2e-3));
    CHECK(long_melting_amps(0.0159 * 25.4) == Approx(20.54).epsilon(2e-3));
    CHECK(long_melting_amps(1) == 80);
    // Parts E9: 16 AWG of 2,581 circular mils, 5 s, from 25 C: 168.9 A (S92 with the sign put right); Preece 0.0524 in
    // 123 A (S93).
    CHECK(melting_amps(2581 / mil, 5, 25) == Approx(168.9).epsilon(5e-3));
    CHECK(long_melting_amps(0.0524 * 25.4) == Approx(123).epsilon(5e-3));
    // E18: AWG 18 in 1 s: 237.6 A; the IEC 60949 form gives 237.1 A (DERIVED from one another's sources).
    const double d = awg_diameter_mm(18);
    const double area = std::acos(-1.0) / 4 * d * d;
    const double onderdonk = melting_amps(area, 1, 25);
    const double iec = 226 * area * std::sqrt(std::log((1083 + 234.5) / (25 + 234.5)));
    CHECK(onderdonk == Approx(237.6).epsilon(2e-3));
    CHECK(onderdonk == Approx(iec).epsilon(5e-3));
    CHECK(melting_seconds(area, onderdonk, 25) == Approx(1).epsilon(1e-9));
}

TEST_CASE("a bundle leaves a wire less current (W21)") {
    // cableyutai.com.tw/tech-02.htm: three 0.70, four to six 0.60, seven to 24 0.50; 18 AWG 20 A becomes 14, 12, 10.
    CHECK(bundle_factor(1) == 1);
    CHECK(bundle_factor(2) == 1);
    CHECK(20 * bundle_factor(3) == Approx(14));
    CHECK(20 * bundle_factor(4) == Approx(12));
    CHECK(20 * bundle_factor(6) == Approx(12));
    CHECK(20 * bundle_factor(7) == Approx(10));
    CHECK(20 * bundle_factor(24) == Approx(10));
}

TEST_CASE("insulation types have their printed classes (reference wires 2.5)") {
    // awcwire.com FAQ-Automotive-Wire; Nizing/en/gpt.aspx, twp.aspx, flryb.aspx, fl2xb.aspx, flr13ya.aspx;
    // ppgolden.com/D611.htm.
    CHECK(insulation_class("GPT") == 80);
    CHECK(insulation_class("twp") == 85);
    CHECK(insulation_class("GXL") == 125);
    CHECK(insulation_class("FLRY-B") == 105);
    CHECK(insulation_class("FL2X-B") == 125);
    CHECK(insulation_class("FLR13Y-A") == 150);
    CHECK(insulation_class("AVSS") == std::nullopt);  // in no table read: not guessed
    CHECK(insulation_class("AVZ") == std::nullopt);   // in no table read: not guessed
    CHECK(insulation_class("AVSSH") == 100);
    CHECK(insulation_class("RD") == std::nullopt);
}
