// `serve JOB`: what an answer does to the file, and what the page then tells.
#include <filesystem>
#include <set>

#include "tests/support/catch.hpp"
#include "tests/support/job_desks.hpp"

using namespace voltfall;
using voltfall::testing::Desk;
using voltfall::testing::from_browser;
using voltfall::testing::posted;

TEST_CASE("an answer goes into the file as read would put it, once, and can be taken out") {
    Desk desk;
    const std::string shown = desk.ask(from_browser("/")).body;
    CHECK(contains(shown, "hi, key run  M1.1 to B1-"));
    CHECK(contains(shown, "weak &lt;b&gt;air"));
    CHECK(contains(shown, "<li>1: hi"));
    CHECK_FALSE(contains(shown, "<script"));
    const HttpRequest answer =
        posted("/answer", {{"turn", "7"}, {"test", "hi, key run  M1.1 to B1-"}, {"value", "10,3"}});
    CHECK(desk.ask(answer).status == 303);
    CHECK(desk.now() == Desk::text() + "2 = \"hi, key run  M1.1 to B1-  10,3V\"\n");
    CHECK(desk.ask(answer).status == 303);  // pressed twice, or sent again by the back button
    CHECK(desk.now() == Desk::text() + "2 = \"hi, key run  M1.1 to B1-  10,3V\"\n");
    CHECK(contains(desk.ask(from_browser("/")).body, "Kept as reading 2"));
    CHECK(desk.ask(posted("/undo", {{"turn", "8"}, {"key", "2"}})).status == 303);
    CHECK(desk.now() == Desk::text());
}

TEST_CASE("a word for each position is kept as readings, which undo takes out together") {
    Desk desk;
    CHECK(desk.ask(posted("/answer", {{"turn", "1"},
                                      {"test", "lo, ml, mh  blower"},
                                      {"at0", "dead"},
                                      {"at1", ""},
                                      {"at2", "slow"},
                                      {"do", "keep"}}))
              .status == 303);
    CHECK(desk.now() == Desk::text() + "2 = \"lo  blower  dead\"\n3 = \"mh  blower  slow\"\n");
    CHECK(contains(desk.ask(from_browser("/")).body, "Take out readings 2 and 3"));
    CHECK(desk.ask(posted("/undo", {{"turn", "2"}, {"key", "3"}})).status == 303);
    CHECK(desk.now() == Desk::text());
    // Words that no list of ours has are no answer.
    desk.ask(posted("/answer", {{"turn", "3"}, {"test", "lo, ml, mh  blower"}, {"at0", "\"x"}, {"at7", "dead"}}));
    CHECK(desk.now() == Desk::text());
}

TEST_CASE("what was mended is kept once, readings then count after it, and it can be taken out") {
    Desk desk;
    CHECK(contains(desk.ask(from_browser("/")).body, "action=\"/repaired\""));
    desk.ask(posted("/repaired", {{"turn", "1"}, {"repaired", ""}}));
    CHECK(contains(desk.ask(from_browser("/")).body, "Say where and what was done"));
    const HttpRequest mended =
        posted("/repaired", {{"turn", "2"}, {"repaired", "C101.4 <new> terminal"}, {"do", "keep"}});
    desk.ask(mended);
    desk.ask(mended);
    CHECK(contains(desk.now(), "[repaired]\nC101.4 = \"<new> terminal\"\n"));
    desk.ask(posted("/answer", {{"turn", "3"}, {"reading", "key run, hi  clamp 542  20.3A"}}));
    CHECK(contains(desk.now(), "[after]\n1 = \"key run, hi  clamp 542  20.3A\"\n"));
    CHECK(contains(desk.ask(from_browser("/")).body, "Take out reading 1"));
    desk.ask(posted("/undo", {{"turn", "4"}, {"key", "1"}}));
    const std::string shown = desk.ask(from_browser("/")).body;
    CHECK(contains(shown, "Take out what was mended"));
    CHECK_FALSE(contains(shown, "<new>"));
    desk.ask(posted("/undo", {{"turn", "5"}, {"key", "C101.4"}}));
    CHECK_FALSE(contains(desk.now(), "C101.4"));
    desk.ask(posted("/repaired", {{"turn", "6"}, {"do", "nothing"}}));
    CHECK(contains(desk.now(), "nothing = \"no fault found\"\n"));
}

TEST_CASE("the whole report is a page of the same server, of the file as it is") {
    Desk desk;
    CHECK(contains(desk.ask(from_browser("/")).body, "href=\"/report\""));
    CHECK(desk.ask(from_browser("/report")).body == "the report");
    std::filesystem::remove(desk.file().path());
    CHECK(desk.ask(from_browser("/report")).status == 500);
}

TEST_CASE("what cannot be read changes nothing and is shown again, harmless") {
    Desk desk;
    // A word that would be a reading of the load by itself is no answer to volts.
    desk.ask(posted("/answer", {{"turn", "9"}, {"test", "hi, key run  M1.1 to B1-"}, {"value", "normal"}}));
    CHECK(desk.now() == Desk::text());
    CHECK(contains(desk.ask(from_browser("/")).body, "does not answer"));
    CHECK(desk.ask(posted("/answer", {{"turn", "1"}, {"reading", "<script>x</script>"}})).status == 303);
    CHECK(desk.now() == Desk::text());
    const std::string shown = desk.ask(from_browser("/")).body;
    CHECK(contains(shown, "Nothing was kept"));
    CHECK(contains(shown, "&lt;script&gt;"));
    CHECK_FALSE(contains(shown, "<script"));
    for (const char* path : {"/../../etc/passwd", "/etc/passwd", "/answer", "//x"})
        CHECK(desk.ask(from_browser(path)).status == 404);
}

TEST_CASE("another program's change counts, and a file that is gone is said") {
    Desk desk;
    std::ofstream(desk.file().path(), std::ios::app) << "2 = \"fuse F7 good\"\n";
    CHECK(contains(desk.ask(from_browser("/")).body, "2 readings kept"));
    // The edit wins, and the page says so once.
    std::ofstream(desk.file().path(), std::ios::app) << "3 = \"M1 dead\"\n";
    const std::string told = desk.ask(from_browser("/")).body;
    CHECK(contains(told, "3 readings kept"));
    CHECK(contains(told, "changed by another program"));
    CHECK_FALSE(contains(desk.ask(from_browser("/")).body, "changed by another program"));
    std::filesystem::remove(desk.file().path());
    CHECK(desk.ask(from_browser("/")).status == 500);
    CHECK(desk.ask(posted("/answer", {{"turn", "3"}, {"reading", "fuse F7 good"}})).status == 303);
    CHECK_FALSE(std::filesystem::exists(desk.file().path()));
}

TEST_CASE("two browsers at one job see each other's readings, also in a frame that needs no script") {
    Desk desk;
    const auto of = [](HttpRequest request, int browser) {
        request.visitor.number = browser;
        return request;
    };
    const std::string first = desk.ask(of(from_browser("/"), 1)).body;
    const std::size_t at = first.find("/news?seen=") + 11;
    HttpRequest news = of(from_browser("/news"), 1);
    news.query["seen"] = first.substr(at, first.find('"', at) - at);
    const HttpResponse quiet = desk.ask(news);
    CHECK(quiet.in_frame);
    CHECK(contains(quiet.body, "Up to date"));
    CHECK(contains(quiet.body, "http-equiv=\"refresh\""));
    desk.ask(of(from_browser("/"), 2));
    desk.ask(of(posted("/answer", {{"turn", "2"}, {"reading", "fuse F7 good"}}), 2));
    CHECK(contains(desk.ask(news).body, "The job has changed"));
    const std::string seen = desk.ask(of(from_browser("/"), 1)).body;
    CHECK(contains(seen, "Another browser has changed the job"));
    CHECK(contains(seen, "2 readings kept"));
    // The one who wrote it is told of his own reading, not of news.
    const std::string own = desk.ask(of(from_browser("/"), 2)).body;
    CHECK(contains(own, "Kept as reading 2"));
    CHECK_FALSE(contains(own, "Another browser"));
    // A test that one leaves out stays open for the other.
    desk.ask(of(posted("/answer", {{"turn", "4"}, {"do", "skip"}, {"test", "hi, key run  M1.1 to B1-"}}), 2));
    CHECK(contains(desk.ask(of(from_browser("/"), 1)).body, "name=\"test\""));
    const std::string left_out = desk.ask(of(from_browser("/"), 2)).body;
    CHECK_FALSE(contains(left_out, "name=\"test\""));
    // It may be all that is open: it can be had back.
    CHECK(contains(left_out, "value=\"again\""));
    desk.ask(of(posted("/answer", {{"turn", "5"}, {"do", "again"}}), 2));
    CHECK(contains(desk.ask(of(from_browser("/"), 2)).body, "name=\"test\""));
    CHECK(contains(desk.ask(of(posted("/invite", {}), 1)).body, "http://next"));
}

TEST_CASE("texts that attack a page stay text") {
    for (const std::string& evil :
         {std::string("<script>alert(1)</script>"), std::string("\"><img src=x onerror=alert(1)>"),
          std::string("' onload='x"), std::string("\xE2\x80\xAEtxet"), std::string(10000, 'x'),
          std::string("</pre></title><b>")}) {
        Desk desk;
        desk.ask(posted("/answer", {{"turn", "1"}, {"reading", evil}}));
        const std::string page = desk.ask(from_browser("/")).body;
        CHECK_FALSE(contains(page, "<script"));
        CHECK_FALSE(contains(page, "<img"));
        CHECK_FALSE(contains(page, " onload='"));
        CHECK_FALSE(contains(page, "\xE2\x80\xAE"));
        CHECK_FALSE(contains(page, "</pre></title>"));
        CHECK(page.size() < 60'000);
        CHECK(desk.now() == Desk::text());
    }
}

TEST_CASE("a page asked for in the other way is none, and changes nothing") {
    Desk desk;
    for (const char* read_only : {"/", "/news", "/report"})
        CHECK(desk.ask(posted(read_only, {{"turn", "1"}, {"reading", "fuse F7 good"}})).status == 404);
    for (const char* written : {"/answer", "/repaired", "/undo", "/invite"})
        CHECK(desk.ask(from_browser(written)).status == 404);
    CHECK(desk.now() == Desk::text());
}

TEST_CASE("an answer without a test, without a word or sent twice keeps nothing more") {
    Desk desk;
    // A page that lost its hidden field, a card whose words were all left open, and a card that asks for a number.
    for (const auto& form : std::vector<std::map<std::string, std::string>>{
             {{"turn", "1"}},
             {{"turn", "2"}, {"test", "no such test"}, {"do", "keep"}},
             {{"turn", "3"}, {"test", "lo, ml, mh  blower"}, {"at0", ""}, {"at1", ""}, {"do", "keep"}},
             {{"turn", "4"}, {"test", "hi, key run  M1.1 to B1-"}, {"do", "keep"}}}) {
        CHECK(desk.ask(posted("/answer", form)).status == 303);
        CHECK(desk.now() == Desk::text());
    }
    // A value beside a test that is none is read as a reading by itself.
    desk.ask(posted("/answer", {{"turn", "5"}, {"test", "no such test"}, {"value", "fuse F7 good"}}));
    CHECK(desk.now() == Desk::text() + "2 = \"fuse F7 good\"\n");
    const HttpRequest undo = posted("/undo", {{"turn", "6"}, {"key", "2"}});
    desk.ask(undo);
    CHECK(desk.now() == Desk::text());
    desk.ask(posted("/answer", {{"turn", "7"}, {"reading", "fuse F7 good"}}));
    desk.ask(undo);  // the back button: that page has done its part
    CHECK(contains(desk.now(), "fuse F7 good"));
}

TEST_CASE("no fault found is kept in the words of who looked, once") {
    Desk desk;
    const HttpRequest nothing = posted("/repaired", {{"turn", "1"}, {"do", "nothing"}, {"repaired", "drove 20 km"}});
    desk.ask(nothing);
    desk.ask(nothing);
    CHECK(contains(desk.now(), "[repaired]\nnothing = \"drove 20 km\"\n"));
    CHECK(desk.now().find("drove 20 km") == desk.now().rfind("drove 20 km"));
}

TEST_CASE("a job that another program has broken or taken away is told, and nothing is written into it") {
    Desk desk;
    desk.ask(from_browser("/"));
    const std::string broken = Desk::text() + "[readings]\n";
    std::ofstream(desk.file().path(), std::ios::trunc) << broken;
    CHECK(desk.ask(from_browser("/report")).status == 500);
    for (const auto& form : std::vector<std::map<std::string, std::string>>{
             {{"turn", "1"}, {"reading", "fuse F7 good"}},
             {{"turn", "2"}, {"test", "hi, key run  M1.1 to B1-"}, {"value", "10,3"}}}) {
        CHECK(desk.ask(posted("/answer", form)).status == 303);
        CHECK(desk.now() == broken);
        const HttpResponse told = desk.ask(from_browser("/"));
        CHECK(told.status == 500);
        CHECK(contains(told.body, "Nothing was kept"));
    }
    desk.ask(posted("/undo", {{"turn", "3"}, {"key", "1"}}));
    CHECK(desk.now() == broken);
    std::filesystem::remove(desk.file().path());
    HttpRequest news = from_browser("/news");
    news.query["seen"] = "before";
    CHECK(contains(desk.ask(news).body, "cannot be read"));
}
