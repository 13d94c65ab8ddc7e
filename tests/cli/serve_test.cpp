// `serve`: who may ask, what an answer does to the file, and a whole turn over a real socket.
#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>

#include "cli/serve/gate.hpp"
#include "cli/serve/job_desk.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

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
    Desk() : file_("open.job.toml", text()), desk_(file_.path(), weigh) {
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

TEST_CASE("the door opens once, by the key that was printed, and then for its own browser only") {
    Gate gate("right", "s", 4000);
    CHECK(gate.check(from_browser("/", ""))->status == 403);
    HttpRequest wrong = from_browser("/", "");
    wrong.query["key"] = "wrong";
    CHECK(gate.check(wrong)->status == 403);
    HttpRequest right = from_browser("/", "");
    right.query["key"] = "right";
    const auto opened = gate.check(right);
    REQUIRE(opened);
    CHECK(opened->status == 303);
    CHECK(opened->session == "s");
    CHECK(gate.check(right)->status == 403);     // used up
    CHECK_FALSE(gate.check(from_browser("/")));  // the browser that has the cookie
    CHECK(gate.check(from_browser("/", "t"))->status == 403);
}

TEST_CASE("a key that is guessed at opens no more") {
    Gate gate("right", "s", 4000);
    for (int i = 0; i < 1000; ++i) {
        HttpRequest wrong = from_browser("/", "");
        wrong.query["key"] = std::to_string(i);
        CHECK(gate.check(wrong)->status == 403);
    }
    HttpRequest right = from_browser("/", "");
    right.query["key"] = "right";
    CHECK(gate.check(right)->status == 403);
}

TEST_CASE("another host, a foreign page, an odd method and a long body are turned away") {
    Gate gate("right", "s", 4000);
    HttpRequest request = from_browser("/");
    request.host = "evil.example:4000";
    CHECK(gate.check(request)->status == 403);
    request = from_browser("/");
    request.host = "127.0.0.1:4001";
    CHECK(gate.check(request)->status == 403);
    for (const char* origin : {"http://evil.example", "null", "https://127.0.0.1:4000", "http://127.0.0.1:4000.evil"}) {
        request = posted("/answer", {});
        request.origin = origin;
        INFO(origin);
        CHECK(gate.check(request)->status == 403);
    }
    request.origin = "http://127.0.0.1:4000";
    CHECK_FALSE(gate.check(request));
    request.method = "DELETE";
    CHECK(gate.check(request)->status == 405);
    request = posted("/answer", {});
    request.too_large = true;
    CHECK(gate.check(request)->status == 413);
    CHECK(random_key().size() == 32);
    CHECK(random_key() != random_key());
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

TEST_CASE("what cannot be read changes nothing and is shown again, harmless") {
    Desk desk;
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
    std::filesystem::remove(desk.file().path());
    CHECK(desk.ask(from_browser("/")).status == 500);
    CHECK(desk.ask(posted("/answer", {{"turn", "3"}, {"reading", "fuse F7 good"}})).status == 303);
    CHECK_FALSE(std::filesystem::exists(desk.file().path()));
}

namespace {

/// A running `voltfall serve`, its port and key.
class Served {
public:
    explicit Served(const std::string& job) {
        int ends[2];
        REQUIRE(pipe(ends) == 0);
        child_ = fork();
        if (child_ == 0) {
            dup2(ends[1], STDOUT_FILENO);
            execl(VOLTFALL_BINARY, VOLTFALL_BINARY, "serve", job.c_str(), "--quiet", nullptr);
            _exit(127);
        }
        close(ends[1]);
        std::string line;
        for (char c = 0; read(ends[0], &c, 1) == 1 && c != '\n';) line += c;
        close(ends[0]);
        const std::size_t at = line.find("127.0.0.1:");
        REQUIRE(at != std::string::npos);
        port_ = std::stoi(line.substr(at + 10));
        key_ = line.substr(line.find("key=") + 4);
    }
    /// Ends it as Ctrl-C does; its exit status.
    int end() {
        kill(child_, SIGINT);
        int status = 0;
        waitpid(child_, &status, 0);
        child_ = 0;
        return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    }
    ~Served() {
        if (child_ > 0) {
            kill(child_, SIGKILL);
            waitpid(child_, nullptr, 0);
        }
    }
    Served(const Served&) = delete;
    Served& operator=(const Served&) = delete;

    int connect_to() const {
        const int socket_id = socket(AF_INET, SOCK_STREAM, 0);
        sockaddr_in address{};
        address.sin_family = AF_INET;
        address.sin_port = htons(static_cast<std::uint16_t>(port_));
        address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        REQUIRE(connect(socket_id, reinterpret_cast<sockaddr*>(&address), sizeof(address)) == 0);
        return socket_id;
    }
    /// What is answered to these bytes, until the server closes.
    std::string send_raw(const std::string& bytes) const {
        const int socket_id = connect_to();
        std::size_t sent = 0;
        while (sent < bytes.size()) {
            const auto n = send(socket_id, bytes.data() + sent, bytes.size() - sent, MSG_NOSIGNAL);
            if (n <= 0) break;
            sent += static_cast<std::size_t>(n);
        }
        std::string answer;
        char buffer[4096];
        for (ssize_t n = 0; (n = recv(socket_id, buffer, sizeof(buffer), 0)) > 0;)
            answer.append(buffer, static_cast<std::size_t>(n));
        close(socket_id);
        return answer;
    }
    std::string host() const { return "127.0.0.1:" + std::to_string(port_); }
    std::string get(const std::string& path, const std::string& more = {}) const {
        return send_raw("GET " + path + " HTTP/1.1\r\nHost: " + host() + "\r\nConnection: close\r\n" + more + "\r\n");
    }
    std::string post(const std::string& path, const std::string& body, const std::string& more) const {
        return send_raw("POST " + path + " HTTP/1.1\r\nHost: " + host() +
                        "\r\nConnection: close\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: " +
                        std::to_string(body.size()) + "\r\n" + more + "\r\n" + body);
    }
    const std::string& key() const { return key_; }

private:
    pid_t child_{0};
    int port_{0};
    std::string key_;
};

}  // namespace

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

TEST_CASE("bad requests over a socket leave the server serving") {
    const Desk desk;
    Served served(desk.file().path());
    CHECK(contains(served.send_raw("GET / HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n"), " 403 "));
    CHECK_FALSE(contains(served.send_raw("nonsense\r\n\r\n"), " 200 "));
    CHECK(contains(served.post("/answer", "reading=" + std::string(1'000'000, 'x'), ""), " 4"));
    // Half a request, and many connections at once, wait and are dropped.
    std::vector<int> waiting;
    for (int i = 0; i < 20; ++i) waiting.push_back(served.connect_to());
    (void)send(waiting.front(), "GET / HT", 8, MSG_NOSIGNAL);
    CHECK(served.get("/").starts_with("HTTP/1.1 403"));
    for (const int socket_id : waiting) close(socket_id);
    CHECK(served.get("/?key=" + served.key()).starts_with("HTTP/1.1 303"));
    CHECK(desk.now() == Desk::text());
    CHECK(served.end() == 0);
}
