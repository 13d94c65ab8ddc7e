// What fuses guard and what burns while they hold, as a page.
#include <limits>

#include "cli/views/protect_view.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/cli/page_styles.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;
using voltfall::testing::page;
using voltfall::testing::whole;

namespace {

ProtectionGap gap_of(BodyKind kind, const std::string& fault, const std::string& what) {
    ProtectionGap gap;
    gap.kind = kind;
    gap.fault = fault;
    gap.place = fault.substr(0, fault.find(' '));
    gap.what = what;
    gap.state = "hi";
    gap.amps = 30;
    gap.watts = 120;
    gap.seconds = 40;
    gap.fuse = "F7 never opens";
    return gap;
}

}  // namespace

TEST_CASE("what burns while the fuse holds is told by its sort, alike faults in one line") {
    ProtectAnswer answer;
    auto& gaps = answer.protection.gaps;
    gaps = {gap_of(BodyKind::pack, "M1 seized", "R1"),
            gap_of(BodyKind::pack, "M1 drag 2", "R2"),
            gap_of(BodyKind::winding, "M1 seized", "M1"),
            gap_of(BodyKind::joint, "C101.4 resistance 0.3ohm", "C101.4"),
            gap_of(BodyKind::joint, "C304.1 resistance 0.3ohm", "C304.1"),
            gap_of(BodyKind::joint, "C304.1 resistance 0.5ohm", "C304.1"),
            gap_of(BodyKind::wire, "542 chafe 20mohm", "541"),
            gap_of(BodyKind::module, "Z1 stuck", "Z1"),
            gap_of(BodyKind::rating, "S1 bridge 1-2", "K7 contact")};
    gaps[0].limiter = true;
    gaps[1].limiter_celsius = 140;
    gaps[6].melts = 2.5;
    gaps[8].rating = 25;
    const std::string told = protect_text(answer, whole(200));
    INFO(told);
    for (const char* piece :
         {"no fuse in this circuit: nothing protects it",
          "M1 seized in hi: R1 120 W at 30.0 A, limiter opens after 40 s", "chars what holds it",
          "its limiter opens later, at 140 C", "winding is harmed", "plastic softens", "likewise C304.1",
          "insulation is harmed", "its copper melts in about 2.5 s", "its transistor is harmed",
          "K7 contact carries 30.0 A of its 25 A, such contacts bear it no longer"})
        CHECK(contains(told, piece));
    PageStyle two = page(120, 2);
    two.top_given = true;
    CHECK(contains(protect_text(answer, two), "5 more: --top 7"));
    const std::string screen = protect_text(answer, page(120));
    CHECK(contains(screen, "K7 contact carries 30.0 A of its 25 A"));
    CHECK(contains(screen, "C101.4 resistance 0.3ohm and 1 alike"));
    gaps.clear();
    for (const PageStyle& style : {page(120), whole(120)})
        CHECK(contains(protect_text(answer, style), "no fault of the catalogue harms anything before a fuse opens"));
}

TEST_CASE("a fuse is told with its times, its wires and its contacts, harmed or not") {
    ProtectAnswer answer;
    FuseGuard guard;
    guard.name = "F7";
    guard.type = "maxi";
    guard.rating = 40;
    guard.i2t = 900;
    guard.times = {{44, {}, {}, {}}, {54, 60.0, 600.0, {}}, {80, 2.0, 10.0, 60.0}};
    ProtectAnswer bare = answer;
    bare.protection.fuses = {guard};
    const std::string alone = protect_text(bare, whole(120));
    for (const char* piece : {"F7 40 A maxi\n", "feeds no load", "holds", "60 s or never", "2.0 s to 60 s",
                              "no wire behind it that a short meets before a load"})
        CHECK(contains(alone, piece));
    CHECK(contains(protect_text(bare, page(120)), "no wire behind it"));
    guard.colour = "orange";
    guard.loads = {"M1"};
    WireVerdict wire;
    wire.wire = "542";
    wire.worst = {120, 4.0, 130, 160, {}, {}};
    wire.hardest = {400, {}, 90, 160, 2.0, 110.0};
    guard.wires = {wire};
    ContactVerdict contact;
    contact.name = "K7 contact";
    contact.rating = 25;
    guard.contacts = {contact};
    answer.protection.fuses = {guard};
    const std::string sound = protect_text(answer, whole(120));
    for (const char* piece : {"F7 40 A maxi, orange", "feeds M1", "542 OK worst at 120 A F7 opens in 4.0 s",
                              "at 400 A F7 holds, the wire then 90 C of 160 (slowest fuse 110 C)"})
        CHECK(contains(sound, piece));
    CHECK_FALSE(contains(sound, "GAP"));
    answer.protection.fuses[0].wires[0].fails_from = 60;
    answer.protection.fuses[0].wires[0].fails_to = 90;
    ContactVerdict& worn = answer.protection.fuses[0].contacts[0];
    worn.fails_from = 30;
    worn.fails_to = 45;
    worn.bears = 20;
    const std::string harmed = protect_text(answer, whole(120));
    CHECK(contains(harmed, "542 GAP harmed from 60 A to 90 A"));
    CHECK(contains(harmed, "K7 contact GAP 25 A; worn from 30 A to 45 A: at 45 A it bears 20 s, F7 holds"));
    worn.opens = 300;
    CHECK(contains(protect_text(answer, whole(120)), "it bears 20 s, F7 opens in 5.0 min"));
    CHECK(contains(protect_text(answer, page(120)), "GAP: harmed 542 (60 A to 90 A), K7 contact (30 A to 45 A)"));
}

TEST_CASE("a hot place is told with how long its insulation lasts and what follows") {
    ProtectAnswer answer;
    HotPlace place;
    place.wire = "542";
    place.care = "past the hot tube: hot, rubs";
    place.lasts = {{200, 600}, {120, std::numeric_limits<double>::infinity()}};
    place.fault = "542 chafe 10mohm";
    answer.protection.hot = {place};
    CHECK_FALSE(contains(protect_text(answer, whole(120)), "542 chafe 10mohm:"));
    answer.protection.hot[0].then = {{"lo", "no fuse opens", {}}, {"hi", "F7 opens", 0.2}};
    const std::string told = protect_text(answer, whole(200));
    CHECK(contains(told, "metal of 200 C 10 min, 120 C creeps only"));
    CHECK(contains(told, "542 chafe 10mohm: in lo no fuse opens; in hi F7 opens after 0.20 s"));
    CHECK(contains(protect_text(answer, page(120)), "hot places: 542 (how long they last: --all)"));
    answer.assumed = {"ambient_fuse"};
    CHECK(contains(protect_text(answer, whole(120)), "ASSUMED, no source gives them"));
}
