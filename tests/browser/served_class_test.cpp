// A class at a folder of lessons: learners on phones, the teacher's view, and what never reaches a learner.
#include <array>
#include <filesystem>
#include <thread>

#include "netlists/files/lesson_file.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "tests/browser/page_checks.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/served.hpp"

using namespace voltfall;
using namespace voltfall::testing;
namespace fs = std::filesystem;

namespace {

using Texts = std::vector<std::string>;

/// Some lessons with the circuits that they name, in a folder of their own.
class ClassFolder {
public:
    ClassFolder() : file_("mark") {
        const fs::path scenarios = std::string(PROJECT_DIR) + "/scenarios";
        fs::create_directory(folder() / "bookmobile");
        fs::create_directory(folder() / "lessons");
        for (const auto& entry : fs::directory_iterator(scenarios / "bookmobile"))
            if (entry.path().extension() == ".toml")
                fs::copy_file(entry.path(), folder() / "bookmobile" / entry.path().filename());
        for (const char* name : {"dark-lamp.toml", "full-volts.toml"})
            fs::copy_file(scenarios / "lessons" / name, folder() / "lessons" / name);
    }
    fs::path folder() const { return fs::path(file_.path()).parent_path(); }
    std::string lessons() const { return (folder() / "lessons").string(); }
    std::string results() const { return (folder() / "class.csv").string(); }

private:
    ScratchFile file_;
};

std::string body_of(const std::string& answer) {
    const std::size_t head = answer.find("\r\n\r\n");
    return head == std::string::npos ? "" : answer.substr(head + 4);
}

/// One learner's browser without a screen.
class Learner {
public:
    Learner(const Served& served, const std::string& who)
        : served_(served), cookie_(served.come_in(served.key())), who_(who) {
        served_.post("/who", "who=" + who, cookie_);
    }
    std::string bench(const std::string& lesson) const {
        return body_of(served_.get("/bench?lesson=" + lesson, cookie_));
    }
    /// Sends a line as the page would.
    std::string line(const std::string& lesson, const std::string& fields) {
        const std::string answer =
            served_.post("/line", "lesson=" + lesson + "&turn=" + std::to_string(turn_++) + "&" + fields, cookie_);
        return answer.substr(0, 12);
    }
    /// The same from a page of another moment.
    std::string line_of_page(int turn, const std::string& lesson, const std::string& fields) const {
        return served_.post("/line", "lesson=" + lesson + "&turn=" + std::to_string(turn) + "&" + fields, cookie_);
    }
    std::string get(const std::string& path) const { return served_.get(path, cookie_); }
    const std::string& who() const { return who_; }

private:
    const Served& served_;
    std::string cookie_;
    std::string who_;
    int turn_{0};
};

const std::vector<std::string> lamp_by_the_book{"word=try", "suspect=S1&line=on+S1.C+to+S1.1",
                                                "line=repair+S1+contact+on+open", "line=on+S1.C+to+S1.1", "word=done"};

}  // namespace

TEST_CASE("a learner works a lesson to its end, and nothing that is hidden is sent before it") {
    const ClassFolder at;
    Served served(at.lessons(), {"--progress", at.results()});
    Learner learner(served, "ab");
    std::string sent = learner.get("/") + learner.bench("dark-lamp");
    for (const char* words : {"word=help", "word=map", "word=points", "word=hint", "word=hint", "word=bill"})
        CHECK(learner.line("dark-lamp", words) == "HTTP/1.1 303");
    for (std::size_t i = 0; i + 1 < lamp_by_the_book.size(); ++i) {
        sent += learner.bench("dark-lamp");
        // The repair is what the learner says himself.
        if (i == 2) CHECK_FALSE(contains(sent, "contact on open"));
        CHECK(learner.line("dark-lamp", lamp_by_the_book[i]) == "HTTP/1.1 303");
    }
    for (const char* path :
         {"/sheet?lesson=dark-lamp", "/look?who=AB&lesson=dark-lamp", "/../dark-lamp.toml", "/benches/AB.dark-lamp.txt",
          "/bench?lesson=../dark-lamp", "/bench?lesson=%2e%2e%2fdark-lamp"})
        CHECK(contains(learner.get(path), "HTTP/1.1 404"));
    CHECK(learner.line("dark-lamp", lamp_by_the_book.back()) == "HTTP/1.1 303");
    std::string end;
    for (int waited = 0; waited < 50 && !contains(end, "Solved:"); ++waited) {
        usleep(200000);
        end = learner.bench("dark-lamp");
    }
    CHECK(contains(end, "Solved:"));
    CHECK(contains(end, "S1 contact on open"));
    CHECK(served.end() == 0);
    const ScratchFile unused("x");
    std::ifstream results(at.results());
    const std::string rows{std::istreambuf_iterator<char>(results), {}};
    CHECK(contains(rows, ",AB,"));
    CHECK(contains(rows, ",SOLVED,"));
}

TEST_CASE("the page of a sealed fault holds it in no form") {
    const ClassFolder at;
    const std::string lesson = at.lessons() + "/dark-lamp.toml";
    const LessonReading reading = read_lesson_file(lesson);
    REQUIRE(reading.lesson);
    Served served(lesson);
    Learner learner(served, "cd");
    learner.line("dark-lamp", "word=try");
    const std::string page = learner.bench("dark-lamp");
    CHECK(contains(page, "&gt; try"));
    for (const Fault& fault : reading.lesson->faults) CHECK_FALSE(contains(page, write_fault(*reading.circuit, fault)));
    std::ifstream file(lesson);
    const std::string sealed{std::istreambuf_iterator<char>(file), {}};
    const std::size_t at_fault = sealed.find("fault");
    const std::size_t quote = sealed.find('"', at_fault) + 1;
    CHECK_FALSE(contains(page, sealed.substr(quote, sealed.find('"', quote) - quote)));
}

TEST_CASE("a class that was killed goes on where it stood, and a line of an old page is not done twice") {
    const ClassFolder at;
    std::string before;
    {
        Served served(at.lessons());
        Learner learner(served, "ab");
        learner.line("dark-lamp", lamp_by_the_book[0]);
        learner.line("dark-lamp", lamp_by_the_book[1]);
        before = learner.bench("dark-lamp");
        served.kill_it();
    }
    Served again(at.lessons());
    const Learner learner(again, "AB");
    CHECK(learner.bench("dark-lamp") == before);
    Learner stale(again, "AB");
    CHECK(stale.line("dark-lamp", "line=new+L1") == "HTTP/1.1 303");  // not entered: who it is must be confirmed
    CHECK(learner.bench("dark-lamp") == before);
}

TEST_CASE("a line of an old page is not done, and stands there to be sent again") {
    const ClassFolder at;
    Served served(at.lessons());
    Learner learner(served, "ab");
    learner.line("dark-lamp", lamp_by_the_book[0]);
    const std::string before = learner.bench("dark-lamp");
    learner.line_of_page(0, "dark-lamp", "line=new+L1");
    const std::string told = learner.bench("dark-lamp");
    CHECK(contains(told, "nothing was done"));
    CHECK(contains(told, "value=\"new L1\""));
    CHECK(learner.bench("dark-lamp") == before);
}

TEST_CASE("twenty learners at once, each on a bench of his own, and none waits over three seconds") {
    const ClassFolder at;
    Served served(at.lessons(), {"--progress", at.results()});
    constexpr int learners = 20;
    std::vector<std::thread> threads;
    std::vector<double> longest(learners, 0);
    std::vector<std::string> ends(learners);
    for (int i = 0; i < learners; ++i) {
        threads.emplace_back([&, i] {
            const auto timed = [&](const auto& work) {
                const auto start = std::chrono::steady_clock::now();
                auto result = work();
                longest[i] = std::max(longest[i],
                                      std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
                return result;
            };
            Learner learner(served, std::string(1, static_cast<char>('a' + i)) + "x");
            const std::string lesson(std::array{"dark-lamp", "full-volts"}[i % 2]);
            for (const std::string& fields : lamp_by_the_book) {
                timed([&] { return learner.line(lesson, fields); });
                timed([&] { return learner.bench(lesson); });
            }
            for (int waited = 0; waited < 300 && !contains(ends[i], "What it was"); ++waited) {
                usleep(200000);
                ends[i] = timed([&] { return learner.bench(lesson); });
            }
        });
    }
    for (std::thread& thread : threads) thread.join();
    for (int i = 0; i < learners; ++i) {
        CHECK(contains(ends[i], "What it was"));
        CHECK(longest[i] <= 3.0);
        CHECK(contains(ends[i], std::string("bench of ") + static_cast<char>('A' + i) + "X"));
    }
    WARN("longest wait of twenty learners: " << *std::max_element(longest.begin(), longest.end()) << " s");
    const std::string cookie = served.come_in(Served::key_of(served.teacher()));
    const std::string seen = served.get("/", cookie);
    for (int i = 0; i < learners; ++i) CHECK(contains(seen, std::string(1, static_cast<char>('A' + i)) + "X"));
    CHECK(contains(served.get("/sheet?lesson=dark-lamp", cookie), "S1 contact on open"));
    CHECK(served.end() == 0);
}

TEST_CASE("a learner's and the teacher's pages on a phone") {
    if (!browser_is_installed()) {
        WARN("chromium and its driver are not installed: nothing was checked");
        return;
    }
    const ClassFolder at;
    Served served(at.lessons());
    const auto check_page = [](Browser& browser) {
        CHECK(sideways(browser) == Texts{});
        CHECK(small_targets(browser) == Texts{});
        CHECK(faint_texts(browser) == Texts{});
        CHECK(unnamed(browser) == Texts{});
        CHECK(browser.console_errors() == Texts{});
    };
    Browser learner;
    learner.resize(320, 640);
    learner.open(served.address());
    check_page(learner);
    learner.type("input[name=who]", "ab\xEE\x80\x87");
    check_page(learner);
    learner.click("a.way");
    check_page(learner);
    learner.click("button[value=try]");
    learner.type("input[name=suspect]", "S1");
    learner.type("input[name=line]", "on S1.C to S1.1\xEE\x80\x87");
    CHECK(contains(learner.text(), "suspect S1: on S1.C to S1.1"));
    check_page(learner);
    Browser teacher;
    teacher.resize(360, 640);
    teacher.open(served.teacher());
    check_page(teacher);
    CHECK(contains(teacher.text(), "AB"));
    teacher.click("a.way");
    check_page(teacher);
}

TEST_CASE("a suspect sent alone is named for the next test, and an empty line says what is missing") {
    const ClassFolder folder;
    Served served(folder.lessons());
    Learner learner(served, "QZ");
    learner.bench("dark-lamp");
    CHECK(contains(learner.line("dark-lamp", "suspect=S1&line="), "303"));
    const std::string named = learner.bench("dark-lamp");
    CHECK(contains(named, "suspect S1"));
    CHECK(contains(named, "value=\"S1\""));
    CHECK(contains(learner.line_of_page(1, "dark-lamp", "suspect=&line="), "303"));
    CHECK(contains(learner.bench("dark-lamp"), "Nothing was done: say what you do"));
    CHECK(served.end() == 0);
}
