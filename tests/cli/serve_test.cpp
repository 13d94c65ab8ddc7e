// `serve`: who may ask, what an answer does to the file, and a whole turn over a real socket.
#include <sys/socket.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <filesystem>
#include <functional>
#include <random>
#include <set>
#include <thread>

#include "cli/serve/gate.hpp"
#include "cli/serve/job_desk.hpp"
#include "cli/serve/lan.hpp"
#include "cli/serve/qr_code.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/served.hpp"

using namespace voltfall;

namespace {

HttpRequest from_browser(const std::string& path, const std::string& session = "s") {
    HttpRequest request;
    request.method = "GET";
    request.path = path;
    request.host = "127.0.0.1:4000";
    request.session = session;
    return request;
}

HttpRequest posted(const std::string& path, std::map<std::string, std::string> form) {
    HttpRequest request = from_browser(path);
    request.method = "POST";
    request.form = std::move(form);
    return request;
}

/// A job beside its circuit, and a desk that proposes one test without weighing anything.
class Desk {
public:
    Desk()
        : file_("open.job.toml", text()),
          desk_(
              file_.path(), weigh, [](const auto&, const auto&) { return std::string("the report"); },
              [] { return std::string("http://next"); }) {
        std::filesystem::copy_file(scenario("cab-blower.toml"),
                                   std::filesystem::path(file_.path()).parent_path() / "cab-blower.toml");
    }
    static std::string text() {
        return "format  = 1\ncircuit = \"cab-blower.toml\"\nconcern = \"weak <b>air</b>\"\n\n[readings]\n"
               "1 = \"hi  blower slow\"   # seen\n";
    }
    HttpResponse ask(const HttpRequest& request) { return desk_.answer(request); }
    std::string now() const { return file_.text(); }
    const ScratchFile& file() const { return file_; }

private:
    static ReportView weigh(const std::shared_ptr<const Circuit>& circuit, const Job& job) {
        ReportView view;
        view.circuit = circuit;
        view.job = job;
        view.is_job = true;
        Problems problems;
        TestProposal test;
        test.test = *read_test_phrase(TypedText::argument("test", "hi, key run  M1.1 to B1-"), *circuit, problems);
        view.next.tests.push_back(test);
        return view;
    }
    ScratchFile file_;
    JobDesk desk_;
};

}  // namespace

namespace {

std::string key_of(const std::string& address) {
    return address.substr(address.find("key=") + 4);
}

/// A gate at 127.0.0.1:4000 whose clock a test moves.
struct TestGate {
    Gate::Clock::time_point now{};
    Gate gate{{"127.0.0.1:4000", "localhost:4000"}, [this] { return now; }};

    std::optional<HttpResponse> ask(HttpRequest request) { return gate.check(request); }
    std::optional<HttpResponse> with_key(const std::string& key) {
        HttpRequest request = from_browser("/", "");
        request.query["key"] = key;
        return gate.check(request);
    }
    /// The session of a browser that comes in.
    std::string come_in(Role role, KeyUse use = KeyUse::once) {
        const auto opened = with_key(key_of(gate.new_address(role, use)));
        REQUIRE(opened);
        REQUIRE(opened->status == 303);
        return opened->session;
    }
};

}  // namespace

TEST_CASE("the door opens once, by the key that was printed, and then for its own browser only") {
    TestGate at;
    CHECK(at.ask(from_browser("/", ""))->status == 403);
    CHECK(at.with_key("wrong")->status == 403);
    const std::string key = key_of(at.gate.new_address(Role::worker, KeyUse::once));
    const auto opened = at.with_key(key);
    REQUIRE(opened);
    CHECK(opened->status == 303);
    CHECK(opened->session.size() == 32);
    CHECK(at.with_key(key)->status == 403);                   // used up
    CHECK_FALSE(at.ask(from_browser("/", opened->session)));  // the browser that has the cookie
    CHECK(at.ask(from_browser("/", std::string(32, '0')))->status == 403);
    HttpRequest again = from_browser("/", opened->session);  // the address typed again, or gone back to
    again.query["key"] = key;
    CHECK(at.ask(again)->location == "/");
}

TEST_CASE("a class key lets in browser after browser, each known by its number, and roles are kept apart") {
    TestGate at;
    const std::string key = key_of(at.gate.new_address(Role::worker, KeyUse::by_many));
    HttpRequest teacher = from_browser("/", at.come_in(Role::teacher));
    CHECK_FALSE(at.gate.check(teacher));
    CHECK(teacher.visitor.role == Role::teacher);
    std::set<int> numbers{teacher.visitor.number};
    for (int i = 0; i < 30; ++i) {
        const auto opened = at.with_key(key);
        REQUIRE(opened->status == 303);
        HttpRequest request = from_browser("/", opened->session);
        REQUIRE_FALSE(at.gate.check(request));
        CHECK(request.visitor.role == Role::worker);
        numbers.insert(request.visitor.number);
    }
    CHECK(numbers.size() == 31);
    for (std::size_t i = 31; i < most_browsers; ++i) CHECK(at.with_key(key)->status == 303);
    CHECK(at.with_key(key)->status == 403);
}

TEST_CASE("a key that is guessed at opens no more until nobody has tried for a minute") {
    TestGate at;
    const std::string key = key_of(at.gate.new_address(Role::worker, KeyUse::once));
    for (int i = 0; i < 1000; ++i) CHECK(at.with_key(std::to_string(i))->status == 403);
    CHECK(at.with_key(key)->status == 403);
    at.now += std::chrono::seconds(61);
    CHECK(at.with_key(key)->status == 303);
}

TEST_CASE("another host, a foreign page, an odd method and a long body are turned away") {
    TestGate at;
    const std::string session = at.come_in(Role::worker);
    HttpRequest request = from_browser("/", session);
    request.host = "evil.example:4000";
    CHECK(at.ask(request)->status == 403);
    request = from_browser("/", session);
    request.host = "127.0.0.1:4001";
    CHECK(at.ask(request)->status == 403);
    for (const char* origin : {"http://evil.example", "null", "https://127.0.0.1:4000", "http://127.0.0.1:4000.evil"}) {
        request = posted("/answer", {});
        request.session = session;
        request.origin = origin;
        INFO(origin);
        CHECK(at.ask(request)->status == 403);
    }
    request.origin = "http://127.0.0.1:4000";
    CHECK_FALSE(at.ask(request));
    request.method = "DELETE";
    CHECK(at.ask(request)->status == 405);
    request = posted("/answer", {});
    request.session = session;
    request.too_large = true;
    CHECK(at.ask(request)->status == 413);
    CHECK(random_key().size() == 32);
    CHECK(random_key() != random_key());
}

TEST_CASE("what was typed into a page of a server that is gone is shown, so that it is not lost") {
    TestGate at;
    HttpRequest request = posted("/answer", {{"reading", "hi  M1.1 to B1-  <10.3V>"}});
    const auto refused = at.ask(request);
    REQUIRE(refused);
    CHECK(refused->status == 403);
    CHECK(contains(refused->body, "hi  M1.1 to B1-  &lt;10.3V&gt;"));
}

TEST_CASE("an answer goes into the file as read would put it, once, and can be taken out") {
    Desk desk;
    const std::string shown = desk.ask(from_browser("/")).body;
    CHECK(contains(shown, "hi, key run  M1.1 to B1-"));
    CHECK(contains(shown, "weak &lt;b&gt;air"));
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
    CHECK_FALSE(contains(desk.ask(of(from_browser("/"), 2)).body, "name=\"test\""));
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
    const char* typed = std::getenv("VOLTFALL_KILLS");
    const int kills = typed != nullptr ? std::max(1, std::atoi(typed)) : 20;
    const Desk desk;
    std::mt19937 random(4);
    std::size_t kept = 1;
    int landed = 0;
    for (int number = 0; number < kills; ++number) {
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

TEST_CASE("an address is drawn as a QR code that has the standard's marks") {
    const std::string address = "http://192.168.100.200:65535/?key=" + std::string(32, 'a');
    const QrModules modules = qr_modules(address);
    const std::size_t size = modules.size();
    REQUIRE(size >= 21);
    CHECK((size - 21) % 4 == 0);  // ISO/IEC 18004, 5.3.1: 21 modules and four more a version
    // 5.3.2: finder patterns in three corners, seven modules: dark ring, light ring, dark heart of three.
    for (const auto& [top, left] : {std::pair<std::size_t, std::size_t>{0, 0}, {0, size - 7}, {size - 7, 0}}) {
        for (std::size_t row = 0; row < 7; ++row) {
            for (std::size_t column = 0; column < 7; ++column) {
                const std::size_t ring = std::min({row, column, 6 - row, 6 - column});
                CHECK(modules[top + row][left + column] == (ring != 1));
            }
        }
    }
    // 5.3.4: timing patterns between them, dark and light in turn.
    for (std::size_t i = 8; i < size - 8; ++i) CHECK(modules[6][i] == (i % 2 == 0));
    const std::vector<std::string> lines = lines_of(qr_text(modules));
    CHECK(lines.size() == (size + 8 + 1) / 2);
    for (const std::string& line : lines) CHECK(text_width(line) == static_cast<int>(size) + 8);
    CHECK(static_cast<int>(size) + 8 <= 80);
    CHECK(contains(qr_svg(modules), "viewBox"));
    CHECK(qr_modules(std::string(10000, 'x')).empty());
}
