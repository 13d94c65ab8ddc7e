// `serve`: who may ask, by which key and from where; the address as a QR code.
#include "cli/serve/gate.hpp"
#include "cli/serve/qr_code.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/job_desks.hpp"

using namespace voltfall;
using voltfall::testing::from_browser;
using voltfall::testing::posted;

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
