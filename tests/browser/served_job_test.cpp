// A job worked on the served page by clicks and keys, and what happens to a person there.
#include <filesystem>

#include "netlists/files/job_file.hpp"
#include "tests/browser/page_checks.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/served.hpp"

using namespace voltfall;
using namespace voltfall::testing;
namespace fs = std::filesystem;

namespace {

using Texts = std::vector<std::string>;
const std::string enter = "\xEE\x80\x87";  // U+E007

class OpenJob {
public:
    OpenJob() : file_("open.job.toml", text()) {
        fs::copy_file(scenario("cab-blower.toml"), fs::path(file_.path()).parent_path() / "cab-blower.toml");
    }
    static std::string text() {
        return "format  = 1\ncircuit = \"cab-blower.toml\"\nconcern = \"weak air\"\n\n[readings]\n"
               "1 = \"key run, ml,mh,hi  blower slow\"\n2 = \"key run, hi  B1+ to B1-  14.10V\"\n";
    }
    std::string path() const { return file_.path(); }
    std::string now() const { return file_.text(); }
    std::size_t readings() const {
        const JobReading reading = read_job_file(path());
        return reading.job ? reading.job->readings.size() : 0;
    }

private:
    ScratchFile file_;
};

void check_page(Browser& browser) {
    CHECK(sideways(browser) == Texts{});
    CHECK(small_targets(browser) == Texts{});
    CHECK(faint_texts(browser) == Texts{});
    CHECK(unnamed(browser) == Texts{});
    CHECK(browser.console_errors() == Texts{});
    CHECK(browser.run("return document.scripts.length") == 0);
}

}  // namespace

#define NEEDS_BROWSER()                                                         \
    if (!browser_is_installed()) {                                              \
        WARN("chromium and its driver are not installed: nothing was checked"); \
        return;                                                                 \
    }

TEST_CASE("a whole job is worked on the page by clicks and keys, on a phone and on a screen") {
    NEEDS_BROWSER()
    for (const auto& [width, height] : {std::pair{360, 640}, {1280, 800}}) {
        const OpenJob job;
        Served served(job.path());
        Browser browser;
        browser.resize(width, height);
        browser.open(served.address());
        INFO("at " << width);
        CHECK(browser.address() == "http://" + served.host() + "/");  // the key is gone from the bar
        check_page(browser);
        // Another test, then an answer to it by the keyboard.
        const std::string asked = browser.run("return document.querySelector('.card h2').innerText").get<std::string>();
        browser.click("button[value=skip]");
        CHECK(browser.run("return document.querySelector('.card h2').innerText") != asked);
        browser.type("input[name=reading]", "key run, hi  M1.1 to B1-  10.20 V DC" + enter);
        CHECK(contains(browser.text(), "Kept as reading 3"));
        CHECK(job.readings() == 3);
        check_page(browser);
        // What does not read is said and stands there to be mended.
        browser.type("input[name=reading]", "key run, hi  M1.1 to Q7  1V" + enter);
        CHECK(contains(browser.text(), "Nothing was kept"));
        CHECK(browser.run("return document.querySelector('input[name=reading]').value") ==
              "key run, hi  M1.1 to Q7  1V");
        CHECK(job.readings() == 3);
        // Taken out and put in again.
        browser.click("button[value=undo]");
        CHECK(contains(browser.text(), "Took out reading 3"));
        CHECK(job.now() == OpenJob::text());
        for (const char* reading : {"key run, hi  M1.1 to B1-  10.20V", "key run, hi  M1.2 to B1-  0.12V",
                                    "key run, hi  clamp 542  12.4A", "key run, hi  across C101.4  3.61V"}) {
            browser.run("document.querySelector('input[name=reading]').value = ''");
            browser.type("input[name=reading]", reading);
            browser.click("form:has(input[name=reading]) button.main");
        }
        CHECK(job.readings() == 6);
        CHECK(contains(browser.text(), "Enough is known"));
        CHECK(contains(browser.text(), "C101.4 resistance"));
        browser.resize(320, 640);
        check_page(browser);
        CHECK(served.end() == 0);
    }
}

TEST_CASE("back, reload and a second tab keep a reading once, and two tabs see each other's") {
    NEEDS_BROWSER()
    const OpenJob job;
    Served served(job.path());
    Browser browser;
    browser.open(served.address());
    browser.type("input[name=reading]", "fuse F7 good" + enter);
    CHECK(job.readings() == 3);
    browser.reload();
    browser.reload();
    CHECK(job.readings() == 3);
    browser.back();
    // The page of before, as the browser kept it or anew: pressing again keeps nothing twice.
    const std::string here = browser.tab();
    const std::string there = browser.new_tab();
    browser.to_tab(there);
    browser.open("http://" + served.host() + "/");
    browser.type("input[name=reading]", "key run, hi  clamp 542  12.4A" + enter);
    CHECK(job.readings() == 4);
    browser.to_tab(here);
    browser.open("http://" + served.host() + "/");
    CHECK(contains(browser.text(), "4 readings kept"));
    // The other tab's page is still open: what it sends is one more reading, not lost.
    browser.type("input[name=reading]", "fuse F7 good" + enter);
    browser.to_tab(there);
    browser.type("input[name=reading]", "key run, hi  across C101.4  3.61V" + enter);
    CHECK(job.readings() == 6);
    CHECK(browser.console_errors() == Texts{});
    CHECK(served.end() == 0);
}

TEST_CASE("a frame tells what another has changed while something is being typed, and keeps what is typed") {
    NEEDS_BROWSER()
    const OpenJob job;
    Served served(job.path());
    Browser browser;
    browser.resize(360, 640);
    browser.open(served.address());
    browser.type("input[name=reading]", "half of a read");
    REQUIRE(command_line({"read", job.path(), "fuse F7 good"}).status == 0);
    bool told = false;
    for (int waited = 0; waited < 50 && !told; ++waited) {
        usleep(200000);
        // The frame loads itself anew every few seconds: between two of its pages it has no body.
        told = browser
                   .run(
                       "const body = document.querySelector('iframe.news')?.contentDocument?.body;"
                       "return Boolean(body && body.innerText.includes('changed'))")
                   .get<bool>();
    }
    CHECK(told);
    CHECK(browser.run("return document.querySelector('input[name=reading]').value") == "half of a read");
    bool followed = false;
    for (int waited = 0; waited < 50 && !followed; ++waited) {
        followed = browser
                       .run(
                           "const link = document.querySelector('iframe.news')?.contentDocument?.querySelector('a');"
                           "if (link) link.click(); return Boolean(link)")
                       .get<bool>();
        if (!followed) {
            usleep(100000);
        }
    }
    REQUIRE(followed);
    for (int waited = 0; waited < 50 && !contains(browser.text(), "3 readings kept"); ++waited) {
        usleep(200000);
    }
    CHECK(contains(browser.text(), "3 readings kept"));
    CHECK(contains(browser.text(), "changed by another program"));
    CHECK(browser.console_errors() == Texts{});
}

TEST_CASE("a server that is killed and started again has lost nothing") {
    NEEDS_BROWSER()
    const OpenJob job;
    Browser browser;
    int port = 0;
    {
        Served served(job.path());
        port = served.port();
        browser.open(served.address());
        browser.type("input[name=reading]", "fuse F7 good" + enter);
        browser.type("input[name=reading]", "key run, hi  clamp 542  12.4A");
        served.kill_it();
    }
    Served again(job.path(), {"--port", std::to_string(port)});
    browser.click("form:has(input[name=reading]) button.main");
    CHECK(contains(browser.text(), "key run, hi clamp 542 12.4A"));  // shown, to be typed again
    CHECK(contains(browser.text(), "Open the address"));
    CHECK(job.readings() == 3);
    browser.open(again.address());
    CHECK(contains(browser.text(), "3 readings kept"));
    browser.type("input[name=reading]", "key run, hi  clamp 542  12.4A" + enter);
    CHECK(job.readings() == 4);
    CHECK(again.end() == 0);
}

TEST_CASE("texts of a job that attack the page are shown as text") {
    NEEDS_BROWSER()
    const OpenJob job;
    // Marks that turn the direction are refused when the file is read; tests/cli/report_test asserts it.
    std::ofstream(job.path())
        << "format = 1\ncircuit = \"cab-blower.toml\"\nconcern = '<img src=x onerror=\"document.title=1\"> "
           "<script>document.title=2</script>'\njob = \"" +
               std::string(10000, 'W') + "\"\n\n[readings]\n1 = \"key run, hi  blower slow\"\n";
    Served served(job.path());
    Browser browser;
    browser.resize(360, 640);
    browser.open(served.address());
    CHECK(contains(browser.text(), "<img src=x onerror="));
    CHECK(browser.run("return document.images.length + document.scripts.length") == 0);
    check_page(browser);
}

TEST_CASE("a job goes from the complaint over the repair to its report on a phone") {
    NEEDS_BROWSER()
    const ScratchFile file("fresh.job.toml",
                           "format  = 1\ncircuit = \"cab-blower.toml\"\nconcern = \"weak air\"\n\n[readings]\n");
    fs::copy_file(scenario("cab-blower.toml"), fs::path(file.path()).parent_path() / "cab-blower.toml");
    Served served(file.path());
    Browser browser;
    browser.resize(360, 640);
    browser.open(served.address());
    // Nothing is known: the switch is turned, and each position has its word.
    CHECK(browser.run("return document.querySelectorAll('.card select').length") == 4);
    check_page(browser);
    browser.run(
        "document.querySelectorAll('.card select').forEach((list, i) => list.value = i == 0 ? 'normal' : 'slow')");
    browser.click("form:has(select) button.main");
    CHECK(contains(file.text(), "1 = \"lo  blower  normal\"\n2 = \"ml, mh, hi  blower  slow\"\n"));
    for (const char* reading :
         {"key run, hi  B1+ to B1-  14.10V", "key run, hi  M1.1 to B1-  10.20V", "key run, hi  M1.2 to B1-  0.12V",
          "key run, hi  clamp 542  12.4A", "key run, hi  across C101.4  3.61V"})
        browser.type("input[name=reading]", reading + enter);
    CHECK(contains(browser.text(), "Enough is known"));
    browser.type("input[name=repaired]", "terminal renewed at C101.4" + enter);
    CHECK(contains(browser.text(), "NOT PROVED"));
    CHECK(contains(file.text(), "[repaired]\nC101.4 = \"terminal renewed at C101.4\"\n"));
    check_page(browser);
    // The card asks for what is missing until nothing is.
    for (int i = 0; i < 8 && !contains(browser.text(), "PROVED: every check has passed"); ++i) {
        const std::string asked = browser.run("return document.querySelector('.card h2').innerText").get<std::string>();
        const std::string answer = contains(asked, "B1+ to B1-") ? "14.05"
                                   : contains(asked, "clamp")    ? "20.3"
                                   : contains(asked, "G201")     ? "0.03"
                                   : contains(asked, " to B1-")  ? "13.70"
                                                                 : "normal";
        browser.type(".card input[name=value]", answer + enter);
    }
    INFO(browser.text().substr(0, 1500));
    CHECK(contains(browser.text(), "PROVED: every check has passed"));
    check_page(browser);
    browser.click("a[href='/report']");
    CHECK(contains(browser.text(), "Has the repair been proved?"));
    CHECK(browser.console_errors() == Texts{});
    CHECK(command_line({"prove", file.path()}).status == 0);
    CHECK(served.end() == 0);
}
