// `serve JOB` over a real socket: a whole turn, bad requests, slow senders, kills.
#include <sys/socket.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <filesystem>
#include <functional>
#include <random>
#include <thread>

#include "netlists/platform/lan.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/job_desks.hpp"
#include "tests/support/kills.hpp"
#include "tests/support/served.hpp"

using namespace voltfall;
using voltfall::testing::Desk;
using voltfall::testing::Served;

TEST_CASE("a whole turn over a socket: key, page, answer, page, end") {
    const Desk desk;
    Served served(desk.file().path());
    CHECK(served.get("/").starts_with("HTTP/1.1 403"));
    const std::string opened = served.get("/?key=" + served.key());
    CHECK(opened.starts_with("HTTP/1.1 303"));
    CHECK(contains(opened, "HttpOnly; SameSite=Strict"));
    const std::size_t at = opened.find("Set-Cookie: ") + 12;
    const std::string cookie = "Cookie: " + opened.substr(at, opened.find(';', at) - at) + "\r\n";
    const std::string page = served.get("/", cookie);
    CHECK(page.starts_with("HTTP/1.1 200"));
    CHECK(contains(page, "X-Frame-Options: DENY"));
    CHECK(contains(page, "frame-ancestors 'none'"));
    CHECK(contains(page, "class=\"card\""));
    CHECK(contains(page, "Wiring in"));
    const std::string posted_answer = served.post("/answer", "turn=1&reading=fuse+F7+good", cookie);
    CHECK(posted_answer.starts_with("HTTP/1.1 303"));
    CHECK(contains(desk.now(), "2 = \"fuse F7 good\""));
    CHECK(contains(served.get("/", cookie), "Kept as reading 2"));
    CHECK(served.end() == 0);
}

TEST_CASE("a mended job is told with what its minutes cost where the shop says its rate") {
    const Desk desk;
    const auto job = std::filesystem::path(desk.file().path()).parent_path() / "done.job.toml";
    std::filesystem::copy_file(scenario("weak-air-done.job.toml"), job);
    Served plain(job.string());
    CHECK_FALSE(contains(plain.get("/", plain.come_in(plain.key())), "an hour"));
    Served paid(job.string(), {"--rate", "60 EUR/h"});
    const std::string cookie = paid.come_in(paid.key());
    CHECK(contains(paid.get("/", cookie), "at 60 EUR an hour"));
    CHECK(contains(paid.get("/report", cookie), "at 60 EUR an hour"));
    CHECK(command_line({"serve", job.string(), "--rate", "cheap"}).status == 2);
}

namespace {

/// The seconds that the answer takes.
double seconds_of(const std::function<void()>& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

}  // namespace

TEST_CASE("bad requests over a socket leave the server serving") {
    const Desk desk;
    Served served(desk.file().path());
    const std::string host = "Host: " + served.host() + "\r\n";
    CHECK(contains(served.send_raw("GET / HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n"), " 403 "));
    CHECK_FALSE(contains(
        served.send_raw("GET / HTTP/1.1\r\n" + host + "Host: evil.example\r\nConnection: close\r\n\r\n"), " 200 "));
    CHECK_FALSE(contains(served.send_raw("GET / HTTP/1.1\r\nConnection: close\r\n\r\n"), " 200 "));
    CHECK_FALSE(contains(served.send_raw("nonsense\r\n\r\n"), " 200 "));
    CHECK_FALSE(contains(served.send_raw(std::string(100'000, 'x') + "\r\n\r\n"), " 200 "));
    const std::string cookie = served.come_in(served.key());
    REQUIRE_FALSE(cookie.empty());
    for (const std::string& more : {cookie, std::string()})
        CHECK_FALSE(contains(served.post("/answer", "reading=" + std::string(10'000'000, 'x'), more), " 303 "));
    CHECK(
        contains(served.post("/answer", "reading=fuse+F7+good", cookie + "Origin: http://evil.example\r\n"), " 403 "));
    for (const char* path :
         {"/../../etc/passwd", "/%2e%2e/%2e%2e/etc/passwd", "//etc/passwd", "/answer/../../x", "/\\x"})
        CHECK_FALSE(contains(served.get(path, cookie), " 200 "));
    CHECK(contains(served.get("/", cookie), " 200 "));
    CHECK(desk.now() == Desk::text());
    CHECK(served.end() == 0);
}

TEST_CASE("a wrong key a thousand times shuts the door to keys, not to the browser that is in") {
    const Desk desk;
    Served served(desk.file().path());
    const std::string cookie = served.come_in(served.key());
    for (int i = 0; i < 1000; ++i) REQUIRE(contains(served.get("/?key=" + std::to_string(i)), " 403 "));
    CHECK(contains(served.get("/", cookie), " 200 "));
    CHECK(served.end() == 0);
}

TEST_CASE("a slow sender, half requests and a thousand idle connections keep nobody waiting") {
    const Desk desk;
    Served served(desk.file().path());
    const std::string cookie = served.come_in(served.key());
    std::vector<int> waiting;
    for (int i = 0; i < 1000; ++i) {
        const int socket_id = served.connect_to();
        if (socket_id < 0) break;
        waiting.push_back(socket_id);
    }
    INFO(waiting.size() << " connections");
    CHECK(waiting.size() >= 900);
    for (std::size_t i = 0; i < waiting.size(); i += 3) (void)send(waiting[i], "GET / HT", 8, MSG_NOSIGNAL);
    const std::string head =
        "POST /answer HTTP/1.1\r\nHost: " + served.host() + "\r\n" + cookie + "Content-Length: 100\r\n\r\nread";
    for (std::size_t i = 1; i < waiting.size(); i += 3) (void)send(waiting[i], head.data(), head.size(), MSG_NOSIGNAL);
    // A byte now and then.
    for (int i = 0; i < 5; ++i) (void)send(waiting[1], "i", 1, MSG_NOSIGNAL);
    std::string page;
    CHECK(seconds_of([&] { page = served.get("/", cookie); }) < 5);
    CHECK(contains(page, " 200 "));
    for (const int socket_id : waiting) close(socket_id);
    CHECK(desk.now() == Desk::text());
    CHECK(served.end() == 0);
}

TEST_CASE("kills at any moment of served answers lose no reading that was told as kept, and halve no file") {
    const Desk desk;
    std::mt19937 random(4);
    std::size_t kept = 1;
    int landed = 0;
    // A job that has grown long takes the time of ten kills to be read.
    constexpr std::size_t most = 100;
    for (int number = 0; number < kills(20); ++number) {
        if (kept > most) {
            std::ofstream(desk.file().path(), std::ios::trunc) << Desk::text();
            kept = 1;
        }
        Served served(desk.file().path());
        const std::string cookie = served.come_in(served.key());
        std::atomic<int> told{0};
        std::thread browser([&] {
            for (int turn = 1; turn < 200; ++turn) {
                const std::string answer =
                    served.post("/answer", "turn=" + std::to_string(turn) + "&reading=fuse+F7+good", cookie);
                if (answer.empty()) return;
                if (contains(answer, " 303 ")) ++told;
            }
        });
        usleep(static_cast<useconds_t>(random() % 60000));
        served.kill_it();
        browser.join();
        const JobReading reading = read_job_file(desk.file().path());
        REQUIRE(reading.job);
        REQUIRE(reading.job->readings.size() >= kept + static_cast<std::size_t>(told));
        REQUIRE(reading.job->readings.size() <= kept + static_cast<std::size_t>(told) + 1);
        REQUIRE(desk.now().starts_with(Desk::text()));
        REQUIRE(desk.now().ends_with("\n"));
        landed += reading.job->readings.size() > kept ? 1 : 0;
        kept = reading.job->readings.size();
    }
    CHECK(landed > 0);
}

TEST_CASE("serve says what it cannot serve, and asks before it listens to a network") {
    CHECK(command_line({"serve", "-"}).status == 2);
    CHECK(command_line({"serve", scenario("cab-blower.toml")}).status == 2);
    CHECK(command_line({"serve", "/no/such/file"}).status == 3);
    const ScratchFile empty("x.toml", "format = 1\n");
    CHECK(command_line({"serve", std::filesystem::path(empty.path()).parent_path().string()}).status == 3);
    const Desk desk;
    if (lan_addresses().empty()) {
        CHECK(contains(command_line({"serve", desk.file().path(), "--lan"}, page_of(80), "no\n").err, "on no network"));
    } else {
        const Said asked = command_line({"serve", desk.file().path(), "--lan"}, page_of(80), "no\n");
        CHECK(asked.status == 1);
        CHECK(contains(asked.out, "Everyone on the network of"));
        CHECK(contains(asked.err, "not listening"));
        CHECK_FALSE(contains(asked.out, "key="));
    }
}

TEST_CASE("a class is not begun where its results or its benches cannot be kept, nor on a pipe") {
    const ScratchFile file("lesson.toml");
    const std::filesystem::path folder = std::filesystem::path(file.path()).parent_path();
    const std::string lesson = std::string(PROJECT_DIR) + "/scenarios/lessons/dark-lamp.toml";
    const Said results = command_line({"serve", lesson, "--progress", "/no/such/folder/class.csv"});
    CHECK(results.status == 4);
    CHECK(contains(results.err, "/no/such/folder/class.csv"));
    std::filesystem::copy_file(lesson, file.path(), std::filesystem::copy_options::overwrite_existing);
    std::ofstream(folder / "benches") << "a file where the folder of benches would stand";
    const Said benches = command_line({"serve", file.path()});
    CHECK(benches.status == 4);
    CHECK(contains(benches.err, "the learners' benches are kept in " + (folder / "benches").string()));
    const std::string pipe = (folder / "pipe.job.toml").string();
    REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
    const Said piped = command_line({"serve", pipe});
    CHECK(piped.status == 2);
    CHECK(contains(piped.err, "a pipe is none"));
}
