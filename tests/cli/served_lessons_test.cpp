// `serve FOLDER` of lessons: who comes in under which initials, what is refused, benches that cannot be kept, and what
// the teacher sees.
#include <chrono>
#include <filesystem>
#include <fstream>
#include <thread>

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/served.hpp"
#include "tests/tools/process.hpp"

using namespace voltfall;
using voltfall::testing::Served;

namespace fs = std::filesystem;

namespace {

/// A lesson that can be worked, one that cannot be read, and one whose circuit is not there.
class LessonFolder {
public:
    LessonFolder() : base_("none.toml", "") {
        fs::create_directory(path());
        fs::copy_file(scenario("training-board.toml"), path().parent_path() / "training-board.toml");
        std::ifstream file(std::string(PROJECT_DIR) + "/scenarios/lessons/dark-lamp.toml");
        std::string text{std::istreambuf_iterator<char>(file), {}};
        text.replace(text.find("../bookmobile"), 13, "..");
        write("dark-lamp.toml", text);
        write("half.toml", "format = 1\ntitle = \"half a lesson\"\nconcern = \"dead\"\n");
        write("no-circuit.toml", text.replace(text.find("training-board"), 14, "no-such-circui"));
    }
    fs::path path() const { return fs::path(base_.path()).parent_path() / "class"; }
    void write(const std::string& name, const std::string& text) const { std::ofstream(path() / name) << text; }

private:
    ScratchFile base_;
};

/// A learner's browser.
struct Phone {
    explicit Phone(const Served& served) : served(served), cookie(served.come_in(served.key())) {}
    std::string get(const std::string& path) const { return served.get(path, cookie); }
    std::string post(const std::string& path, const std::string& fields) const {
        return served.post(path, fields, cookie);
    }
    std::string bench() const { return get("/bench?lesson=dark-lamp"); }
    std::string line(int turn, const std::string& fields) const {
        return post("/line", "lesson=dark-lamp&turn=" + std::to_string(turn) + "&" + fields);
    }

    const Served& served;
    std::string cookie;
};

}  // namespace

TEST_CASE("a class asks for initials, and for a word where they are taken") {
    const LessonFolder folder;
    Served served(folder.path().string());
    const Phone first(served);
    CHECK(contains(first.get("/"), "Your initials"));
    CHECK(contains(first.get("/bench?lesson=dark-lamp"), "Your initials"));
    CHECK(contains(first.post("/line", "lesson=dark-lamp&turn=0&word=try"), "Location: /\r\n"));
    for (const char* none : {"who=", "who=ABCDE", "who=A1", "do=enter"}) {
        INFO(none);
        CHECK(contains(first.post("/who", none), "303"));
        CHECK(contains(first.get("/"), "Initials are one to four letters."));
        CHECK_FALSE(contains(first.get("/"), "Initials are one to four letters."));  // told once
    }
    first.post("/who", "who=+ab+");
    CHECK(contains(first.get("/"), "Lessons for AB"));
    const Phone second(served);
    const std::string taken = second.post("/who", "who=Ab");
    CHECK(contains(taken, "AB is at work already"));
    CHECK(contains(second.get("/"), "Your initials"));
    first.line(0, "word=try");
    CHECK(contains(second.post("/who", "who=AB&do=same"), "303"));
    CHECK(contains(second.bench(), "&gt; try"));
    for (const char* path : {"/elsewhere", "/line", "/sheet?lesson=dark-lamp"}) CHECK(contains(first.get(path), "404"));
    for (const char* path : {"/", "/bench", "/elsewhere"}) CHECK(contains(first.post(path, "x=1"), "404"));
    CHECK(served.end() == 0);
}

TEST_CASE("a lesson that cannot be worked is told in the list, and nothing of it is served") {
    const LessonFolder folder;
    Served served(folder.path().string());
    const Phone learner(served);
    learner.post("/who", "who=CD");
    const std::string list = learner.get("/");
    INFO(list);
    CHECK(contains(list, "This lesson has errors; voltfall check "));
    CHECK(contains(list, "half.toml shows them."));
    CHECK(contains(list, "href=\"/bench?lesson=dark-lamp\""));
    CHECK_FALSE(contains(list, "href=\"/bench?lesson=half\""));
    for (const char* broken : {"half", "no-circuit"})
        CHECK(contains(learner.get(std::string("/bench?lesson=") + broken), "This lesson has errors"));
    CHECK(contains(learner.get("/bench?lesson=none"), "There is no such lesson here."));
    for (const char* lesson : {"half", "none"})
        CHECK(contains(learner.post("/line", "turn=0&word=try&lesson=" + std::string(lesson)), "404"));
    const std::string cookie = served.come_in(Served::key_of(served.teacher()));
    const std::string room = served.get("/", cookie);
    CHECK(contains(room, "href=\"/sheet?lesson=dark-lamp\""));
    CHECK(contains(room, "<b>half</b> This lesson has errors"));
    for (const char* lesson : {"half", "none"})
        CHECK(contains(served.get("/sheet?lesson=" + std::string(lesson), cookie), "404"));
    CHECK(served.end() == 0);
}

TEST_CASE("a lesson that is taken away after the start is told when it is wanted") {
    const LessonFolder folder;
    Served served(folder.path().string());
    const Phone learner(served);
    learner.post("/who", "who=EF");
    fs::remove(folder.path() / "dark-lamp.toml");
    const std::string told = learner.bench();
    CHECK(contains(told, " 500 "));
    CHECK(contains(told, "dark-lamp.toml&#39;; check the name of the file"));
    CHECK(contains(learner.get("/"), "check the name of the file"));
    CHECK(served.end() == 0);
}

TEST_CASE("a line that cannot be kept is not done, and stands there to be sent again") {
    const LessonFolder folder;
    Served served(folder.path().string());
    const Phone learner(served);
    learner.post("/who", "who=GH");
    const std::string before = learner.bench();
    fs::remove_all(folder.path() / "benches");
    learner.line(0, "suspect=S1&line=on+S1.C+to+S1.1");
    const std::string told = learner.bench();
    CHECK(contains(told, "Nothing was done: cannot write"));
    CHECK(contains(told, "value=\"on S1.C to S1.1\""));
    CHECK(contains(told, "value=\"S1\""));
    CHECK(learner.bench() == before);
    fs::create_directory(folder.path() / "benches");
    learner.line(0, "line=%23+a+note");  // a note is no line
    CHECK(learner.bench() == before);
    learner.line(0, "line=try%0Aquit");  // one line, whatever stands in it
    CHECK(contains(learner.bench(), "&gt; try quit"));
    CHECK(served.end() == 0);
}

TEST_CASE("the teacher sees each bench as it stands, and changes nothing") {
    const LessonFolder folder;
    {
        Served served(folder.path().string());
        const Phone learner(served);
        learner.post("/who", "who=JK");
        CHECK(contains(learner.get("/"), "not begun"));
        learner.line(0, "word=try");
        CHECK_FALSE(contains(learner.get("/"), "not begun"));
        const std::string cookie = served.come_in(Served::key_of(served.teacher()));
        CHECK(contains(served.get("/", cookie), "href=\"/look?who=JK&amp;lesson=dark-lamp\""));
        const std::string look = served.get("/look?who=JK&lesson=dark-lamp", cookie);
        CHECK(contains(look, "JK: The switch is on, the lamp is not"));
        CHECK(contains(look, "&gt; try"));
        CHECK(contains(served.get("/look?who=XX&lesson=dark-lamp", cookie), "There is no such bench."));
        CHECK(contains(served.get("/elsewhere", cookie), "404"));
        CHECK(contains(served.post("/line", "lesson=dark-lamp&turn=1&word=done", cookie), "The teacher looks on."));
        learner.line(1, "word=quit");
        std::string told;
        for (int waited = 0; waited < 300 && !contains(told, "What it was"); ++waited) {
            std::this_thread::sleep_for(std::chrono::milliseconds(100));
            told = learner.bench();
        }
        CHECK(contains(told, "Not mended"));
        CHECK(contains(served.get("/look?who=JK&lesson=dark-lamp", cookie), "Not mended"));
        CHECK(contains(learner.get("/"), "NOT MENDED"));
        // What is over is over.
        learner.line(2, "word=map");
        CHECK_FALSE(contains(learner.bench(), "&gt; map"));
        CHECK(served.end() == 0);
    }
    // Another day: a bench that was begun stands as its file, and one that is over is worked out again.
    Served again(folder.path().string());
    const Phone learner(again);
    learner.post("/who", "who=JK");
    CHECK(contains(learner.get("/"), "begun"));
    CHECK_FALSE(contains(learner.get("/"), "not begun"));
    CHECK(contains(learner.bench(), "&gt; quit"));
    CHECK(again.end() == 0);
}

TEST_CASE("serve says where it listens, what it keeps, and that a port is taken") {
    const LessonFolder folder;
    const std::string lesson = (folder.path() / "dark-lamp.toml").string();
    const ScratchFile job("open.job.toml", "format = 1\ncircuit = \"" + scenario("cab-blower.toml") +
                                               "\"\nconcern = \"weak\"\n[readings]\n1 = \"hi  blower slow\"\n");
    const auto interrupted = [](const std::string& words) {
        return run_process(
            {"bash", "-c", "timeout --preserve-status -s INT 5 '" + std::string(VOLTFALL_BINARY) + "' serve " + words});
    };
    const ProcessResult one = interrupted("'" + job.path() + "'");
    INFO(one.out << one.err);
    CHECK(one.status == 0);
    CHECK(one.out.starts_with("open http://127.0.0.1:"));
    CHECK(contains(one.err, "this machine only; the key opens once; Ctrl-C ends it"));
    const ProcessResult room = interrupted("'" + lesson + "'");
    INFO(room.out << room.err);
    CHECK(room.status == 0);
    CHECK(contains(room.out, "learners open http://127.0.0.1:"));
    CHECK(contains(room.out, "the teacher opens http://127.0.0.1:"));
    CHECK(contains(room.err, "benches are kept in " + (folder.path() / "benches").string()));
    Served served(job.path());
    const Said taken = command_line({"serve", job.path(), "--port", std::to_string(served.port())});
    CHECK(taken.status == 4);
    CHECK(contains(taken.err, "cannot listen on 127.0.0.1:" + std::to_string(served.port()) + "; is the port taken?"));
    CHECK(served.end() == 0);
}

TEST_CASE("a request in another way, or with more fields than any page has, changes nothing") {
    const ScratchFile job("open.job.toml", "format = 1\ncircuit = \"" + scenario("cab-blower.toml") +
                                               "\"\nconcern = \"weak\"\n[readings]\n1 = \"hi  blower slow\"\n");
    const std::string before = job.text();
    Served served(job.path());
    const std::string cookie = served.come_in(served.key());
    CHECK(contains(served.send_raw("PUT / HTTP/1.1\r\nHost: " + served.host() + "\r\nConnection: close\r\n" + cookie +
                                   "Content-Length: 0\r\n\r\n"),
                   " 405 "));
    std::string fields;
    for (int i = 0; i < 20; ++i) fields += "f" + std::to_string(i) + "=1&";
    CHECK(contains(served.get("/?" + fields + "x=1", cookie), " 200 "));
    CHECK_FALSE(contains(served.post("/answer", fields + "turn=1&reading=fuse+F7+good", cookie), " 200 "));
    CHECK(job.text() == before);
    const std::string news = served.get("/news?seen=", cookie);
    CHECK(contains(news, "X-Frame-Options: SAMEORIGIN"));
    CHECK(contains(news, "frame-ancestors 'self'"));
    CHECK(contains(served.post("/answer", "turn=2&test=&value=fuse+F7+good", cookie), " 303 "));
    CHECK(contains(job.text(), "2 = \"fuse F7 good\""));
    CHECK(served.end() == 0);
}
