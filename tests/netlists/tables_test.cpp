// The tables of defaults, wires and fuses: shape and sense. Published figures are checked in tests/published.
#include <cmath>
#include <limits>
#include <set>

#include "netlists/tables/colours.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/tables/fuse_model.hpp"
#include "netlists/tables/fuses.hpp"
#include "netlists/tables/wires.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

TEST_CASE("every default has a name of its own, a value and a source") {
    std::set<std::string_view> names;
    for (const DefaultRow& row : default_rows()) {
        INFO(row.name);
        CHECK(names.insert(row.name).second);
        CHECK_FALSE(row.source.empty());
        CHECK(row.source.find("shared/") == std::string_view::npos);
        CHECK((!row.text.empty() || std::isfinite(row.value)));
        CHECK(&default_row(row.name) == &row);
    }
}

TEST_CASE("defaults are found by name") {
    CHECK(default_value("connector_ohm") == 0.002);
    CHECK(default_value("relay_coil_ohm_12") == 90);
    CHECK(default_value("diode_i_sat") == 1e-14);
    CHECK(default_value("tolerance_pack_ohm") == Approx(0.1));
    CHECK(default_row("tolerance_pack_ohm").text == "10%");
    CHECK(default_row("meter_volts").text == "0.8%+3digits");
    CHECK(std::isnan(default_row("meter_volts").value));
    CHECK(default_rows().front().name == "connector_ohm");
}

TEST_CASE("an unknown default, or one that is not the number asked for, is a bug") {
    CHECK_THROWS_AS(default_row("conector_ohm"), std::logic_error);
    CHECK_THROWS_AS(default_row(""), std::logic_error);
    CHECK_THROWS_AS(default_value("meter_volts"), std::logic_error);
    CHECK_THROWS_AS(default_range("connector_ohm"), std::logic_error);
    CHECK_THROWS_AS(default_range("meter_volts"), std::logic_error);
}

TEST_CASE("every range of the defaults has two ends in order") {
    int ranges = 0;
    for (const DefaultRow& row : default_rows()) {
        if (!row.name.starts_with("range_")) continue;
        INFO(row.name);
        const DefaultRange range = default_range(row.name);
        CHECK(range.low > 0);
        CHECK(range.low < range.high);
        ++ranges;
    }
    CHECK(ranges == 9);
    CHECK(default_range("range_resistance").low == Approx(0.02));
    CHECK(default_range("range_resistance").high == Approx(100));
    CHECK(default_range("range_resistance").unit == Unit::ohm);
    CHECK(default_range("range_chafe").low == Approx(0.001));
    CHECK(default_range("range_chafe").high == Approx(0.5));
    CHECK(default_range("range_weak").low == Approx(10.5));
    CHECK(default_range("range_drag").unit == Unit::none);
}

TEST_CASE("the shares of causes leave nothing over") {
    double sum = 0;
    for (const char* name : {"prior_joint", "prior_motor", "prior_pack", "prior_module", "prior_wire",
                             "prior_switch_relay", "prior_fuse_itself"}) {
        sum += default_value(name);
    }
    CHECK(sum == Approx(1.0));
}

TEST_CASE("thicker wire has fewer ohms and carries more, in every standard") {
    for (double area = 0.1; area < 120; area *= 1.07) {
        CHECK(copper_ohm_per_metre(area) > copper_ohm_per_metre(area * 1.07));
        CHECK(wire_ampacity(area) < wire_ampacity(area * 1.07));
    }
    for (int gauge = -3; gauge < 40; ++gauge) {
        CHECK(wire_area_mm2(WireStandard::awg, gauge) > wire_area_mm2(WireStandard::awg, gauge + 1));
        CHECK(wire_ohm_per_metre(WireStandard::awg, gauge) < wire_ohm_per_metre(WireStandard::awg, gauge + 1));
    }
    const std::vector<double> metric{0.35, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4, 6, 10, 16};
    for (std::size_t i = 1; i < metric.size(); ++i) {
        CHECK(wire_ohm_per_metre(WireStandard::metric, metric[i]) <
              wire_ohm_per_metre(WireStandard::metric, metric[i - 1]));
    }
}

TEST_CASE("sizes outside the tables take the formula") {
    CHECK(wire_ohm_per_metre(WireStandard::metric, 0.8) == Approx(copper_ohm_per_metre(0.8)));
    CHECK(wire_ohm_per_metre(WireStandard::metric, 25) == Approx(copper_ohm_per_metre(25)));
    CHECK(wire_area_mm2(WireStandard::awg, 22) == Approx(0.3255).epsilon(1e-3));
    CHECK(wire_area_mm2(WireStandard::metric, 2.5) == 2.5);
}

TEST_CASE("colour letters become words, and unknown ones are left to the caller") {
    const auto words = [](std::string_view typed) { return colour_meaning(typed).words; };
    CHECK(words("RD") == "red");
    CHECK(words("og/bk") == "orange with black");
    CHECK(words("YE-RD") == "yellow with red");
    CHECK(words("RDBU") == "red with blue");
    CHECK(words("GNYE") == "green with yellow");
    CHECK(words("GNYE/BK") == "green with yellow and black");
    CHECK(words("sw/ge") == "black with yellow");
    CHECK(words("BL") == "blue");
    CHECK(words("L/W") == "blue with white");
    CHECK(words("white") == "white");
    CHECK(words("LT GRN/WHT") == "light green with white");
    for (const char* unknown : {"", "XX", "RD/", "/RD", "RD/XX", "RDB", "RD//BK", "RDBUGNYE", "GRAU", "LT QQ"}) {
        INFO(unknown);
        CHECK(words(unknown).empty());
        CHECK(colour_meaning(unknown).choices.empty());
    }
}

TEST_CASE("letters in which the published tables differ have their choices, and a table decides") {
    const auto told = [](std::string_view typed) {
        std::string text;
        const ColourMeaning meaning = colour_meaning(typed);
        CHECK(meaning.words.empty());
        for (const auto& choice : meaning.choices)
            text += meaning.unclear + " " + choice.colour + " (" + choice.tables + ") " + choice.iec + "; ";
        return text;
    };
    CHECK(told("GR") == "GR grey (german, japanese, swedish) GY; GR green (american) GN; ");
    CHECK(told("RD/SB") == "SB sky blue (japanese) sky blue; SB black (swedish) BK; ");
    CHECK(told("P") == "P pink (japanese, swedish) PK; P purple (british, american) purple; ");
    CHECK(told("n/rd") == "n natural (japanese, american) natural; n brown (british) BN; ");
    const auto words = [](std::string_view typed, std::string_view table) {
        return colour_meaning(typed, find_colour_table(table)).words;
    };
    CHECK(words("GR", "german") == "grey");
    CHECK(words("GR", "American") == "green");
    CHECK(words("SB", "swedish") == "black");
    CHECK(words("SB/W", "japanese") == "sky blue with white");
    CHECK(words("P", "british") == "purple");
    // The British letters are single ones and are joined by nothing; they win over the two letters of IEC 60757.
    CHECK(words("NW", "british") == "brown with white");
    CHECK(words("LGK", "british") == "light green with pink");
    CHECK(words("BN", "british") == "black with brown");
    CHECK(words("brown", "british") == "brown");
    CHECK(words("BN", "german") == "brown");
    CHECK(words("RD/GR", "german") == "red with grey");
    CHECK(colour_meaning("SB", find_colour_table("german")).choices.empty());
    CHECK(words("SB", "german").empty());
}

TEST_CASE("colour tables are found by name, and no table says two things of the same letters") {
    CHECK(find_colour_table("iec60757") == find_colour_table("IEC 60757"));
    CHECK(find_colour_table("IEC") == &colour_tables().front());
    CHECK_FALSE(find_colour_table("germann"));
    CHECK_FALSE(find_colour_table(""));
    for (const ColourTable& table : colour_tables()) {
        std::set<std::string_view> letters;
        for (const ColourCode& code : table.codes) {
            INFO(table.name << " " << code.letters);
            CHECK(letters.insert(code.letters).second);
            CHECK(colour_meaning(code.letters, &table).words == code.colour);
        }
    }
}

TEST_CASE("fuse types are read and written by their word") {
    for (const char* word : {"mini", "regular", "maxi", "cartridge", "glass", "breaker", "link"}) {
        REQUIRE(fuse_type(word));
        CHECK(fuse_type_word(*fuse_type(word)) == word);
    }
    CHECK(fuse_type("MAXI") == FuseType::maxi);
    CHECK_FALSE(fuse_type("midi"));
}

TEST_CASE("more current opens a fuse sooner, and below its threshold it holds for ever") {
    for (const FuseType type : {FuseType::mini, FuseType::regular, FuseType::maxi, FuseType::cartridge, FuseType::glass,
                                FuseType::breaker, FuseType::link}) {
        const double threshold = fuse_minimum_opening_amps(type, 20);
        // A link's rating is what its wire carries without harm, far below what melts it.
        if (type != FuseType::link) CHECK(threshold == Approx(24));
        for (const double never : {0.0, -5.0, 20.0, 22.0, threshold}) {
            CHECK_FALSE(fuse_opening_seconds(type, 20, never));
        }
        CHECK_FALSE(fuse_opening_seconds(type, 20, std::numeric_limits<double>::quiet_NaN()));
        double before = std::numeric_limits<double>::infinity();
        for (double amps = threshold * 1.001; amps < 5000; amps *= 1.2) {
            const auto seconds = fuse_opening_seconds(type, 20, amps);
            REQUIRE(seconds);
            CHECK(*seconds > 0);
            CHECK(*seconds < before);
            before = *seconds;
        }
        // Far above the threshold the melting I2t is constant: tau x Imin^2.
        const double much = 1e6;
        CHECK(*fuse_opening_seconds(type, 20, much) * much * much ==
              Approx(fuse_tau_seconds(type, 20) * threshold * threshold).epsilon(1e-5));
    }
}

TEST_CASE("a fuse model without a slow stage is the one-pole form, and a warm fuse opens sooner") {
    const FuseModel pole{24, 0, 1.22, 1};
    for (const double amps : {24.1, 27.0, 40.0, 70.0, 1000.0}) {
        CHECK(*seconds_to_open(pole, {}, amps) == Approx(*one_pole_opening_seconds(24, 1.22, amps)).epsilon(1e-9));
    }
    CHECK_FALSE(seconds_to_open(pole, {}, 23.9));
    const FuseModel blade = fuse_model(FuseType::mini, 20);
    const FuseHeat warm = heat_after(blade, {}, 20, 600);
    CHECK(warm.total() == Approx(1 / 1.44).epsilon(1e-6));
    CHECK(*seconds_to_open(blade, warm, 40) < *seconds_to_open(blade, {}, 40));
    // Heating in two steps is heating in one.
    const FuseHeat once = heat_after(blade, {}, 40, 0.3);
    const FuseHeat twice = heat_after(blade, heat_after(blade, {}, 40, 0.1), 40, 0.2);
    CHECK(once.total() == Approx(twice.total()).epsilon(1e-12));
    // Just before it opens the heat is just below 1.
    CHECK(heat_after(blade, {}, 40, *seconds_to_open(blade, {}, 40)).total() == Approx(1).epsilon(1e-9));
    // A fuse that was about to open and rests for a second opens at less than Imin: its holder is still hot.
    const FuseHeat hot = heat_after(blade, {}, 26, 300);
    const FuseHeat rested = heat_after(blade, hot, 0, 1.5);
    CHECK(rested.total() < 0.7);
    CHECK(seconds_to_open(blade, rested, 23.9));
    CHECK_FALSE(seconds_to_open(blade, {}, 23.9));
}

TEST_CASE("a current the other way opens a fuse as well") {
    CHECK(fuse_opening_seconds(FuseType::mini, 10, -30) == fuse_opening_seconds(FuseType::mini, 10, 30));
}

TEST_CASE("fuses outside the table take the defaults of their type") {
    CHECK(fuse_ohms(FuseType::maxi, 40) == Approx(0.0025));
    CHECK(fuse_ohms(FuseType::mini, 1) == Approx(0.1));
    CHECK(fuse_tau_seconds(FuseType::maxi, 40) == default_value("tau_maxi"));
    CHECK(fuse_tau_seconds(FuseType::mini, 1) == default_value("tau_mini"));
}
