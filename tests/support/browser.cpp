#include "tests/support/browser.hpp"

#include <arpa/inet.h>
#include <fcntl.h>
#include <netinet/in.h>
#include <signal.h>
#include <sys/socket.h>
#include <sys/time.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <stdexcept>

namespace voltfall::testing {

namespace {

using nlohmann::json;

constexpr const char* driver_path = "/usr/bin/chromedriver";
constexpr const char* browser_path = "/usr/bin/chromium";
constexpr const char* element_key = "element-6066-11e4-a52e-4f735466cecf";  // the WebDriver recommendation's own

std::string answer_of(int port, const std::string& request) {
    const int socket_id = socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0);
    const timeval longest{60, 0};
    setsockopt(socket_id, SOL_SOCKET, SO_RCVTIMEO, &longest, sizeof longest);
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(static_cast<std::uint16_t>(port));
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    std::string answer;
    if (connect(socket_id, reinterpret_cast<sockaddr*>(&address), sizeof address) == 0) {
        for (std::size_t sent = 0; sent < request.size();) {
            const ssize_t n = send(socket_id, request.data() + sent, request.size() - sent, MSG_NOSIGNAL);
            if (n <= 0) break;
            sent += static_cast<std::size_t>(n);
        }
        char block[1 << 16];
        std::size_t wanted = std::string::npos;
        for (ssize_t n = 0; answer.size() < wanted && (n = recv(socket_id, block, sizeof block, 0)) > 0;) {
            answer.append(block, static_cast<std::size_t>(n));
            const std::size_t head = answer.find("\r\n\r\n");
            const std::size_t at = answer.find("ontent-Length:");
            if (head != std::string::npos && at < head) wanted = head + 4 + std::stoul(answer.substr(at + 14));
        }
    }
    close(socket_id);
    const std::size_t head = answer.find("\r\n\r\n");
    return head == std::string::npos ? std::string() : answer.substr(head + 4);
}

}  // namespace

bool browser_is_installed() {
    return access(driver_path, X_OK) == 0 && access(browser_path, X_OK) == 0;
}

Browser::Browser(bool offline) {
    std::string pattern = (std::filesystem::temp_directory_path() / "voltfall-browser-XXXXXX").string();
    profile_ = mkdtemp(pattern.data());
    int ends[2];
    if (pipe(ends) != 0) throw std::runtime_error("no pipe");
    driver_ = fork();
    if (driver_ == 0) {
        setpgid(0, 0);
        dup2(ends[1], STDOUT_FILENO);
        const int nothing = ::open("/dev/null", O_WRONLY);
        dup2(nothing, STDERR_FILENO);
        execl(driver_path, driver_path, "--port=0", static_cast<char*>(nullptr));
        _exit(127);
    }
    close(ends[1]);
    std::string said;
    for (char c = 0; said.find("on port ") == std::string::npos || c != '\n';) {
        if (::read(ends[0], &c, 1) != 1) throw std::runtime_error("the browser's driver did not start: " + said);
        said += c;
        if (c == '\n' && said.find("on port ") == std::string::npos) said.clear();
        if (said.find("on port 0") != std::string::npos) said.clear();
    }
    // What else it says must not fill the pipe.
    fcntl(ends[0], F_SETFD, FD_CLOEXEC);
    port_ = std::stoi(said.substr(said.find("on port ") + 8));
    json arguments = {"--headless=new",          "--no-sandbox",      "--disable-gpu",
                      "--disable-dev-shm-usage", "--hide-scrollbars", "--user-data-dir=" + profile_,
                      "--no-first-run"};
    if (offline) arguments.push_back("--host-resolver-rules=MAP * ~NOTFOUND");
    const json wanted = {{"capabilities",
                          {{"alwaysMatch",
                            {{"browserName", "chrome"},
                             {"goog:chromeOptions", {{"binary", browser_path}, {"args", arguments}}},
                             {"goog:loggingPrefs", {{"browser", "ALL"}}}}}}}};
    session_ = ask("POST", "/session", wanted).at("sessionId").get<std::string>();
}

Browser::~Browser() {
    try {
        if (!session_.empty()) in_session("DELETE", "");
    } catch (const std::exception&) {
    }
    if (driver_ > 0) {
        kill(-driver_, SIGKILL);
        waitpid(driver_, nullptr, 0);
    }
    std::error_code ignored;
    std::filesystem::remove_all(profile_, ignored);
}

json Browser::ask(const std::string& method, const std::string& path, const json& body) {
    const std::string sent = method == "POST" ? body.dump() : "";
    const std::string answer =
        answer_of(port_, method + " " + path + " HTTP/1.1\r\nHost: 127.0.0.1:" + std::to_string(port_) +
                             "\r\nConnection: close\r\nContent-Type: application/json\r\nContent-Length: " +
                             std::to_string(sent.size()) + "\r\n\r\n" + sent);
    const json read = json::parse(answer, nullptr, false);
    if (!read.is_object() || !read.contains("value"))
        throw std::runtime_error("the driver's answer to " + path + ": " + answer.substr(0, 400));
    const json& value = read["value"];
    if (value.is_object() && value.contains("error"))
        throw std::runtime_error(path + ": " + value["error"].get<std::string>() + ": " +
                                 value["message"].get<std::string>().substr(0, 400));
    return value;
}

json Browser::in_session(const std::string& method, const std::string& path, const json& body) {
    return ask(method, "/session/" + session_ + path, body);
}

void Browser::resize(int width, int height) {
    in_session("POST", "/goog/cdp/execute",
               {{"cmd", "Emulation.setDeviceMetricsOverride"},
                {"params", {{"width", width}, {"height", height}, {"deviceScaleFactor", 1}, {"mobile", width < 700}}}});
}

void Browser::open(const std::string& address) {
    in_session("POST", "/url", {{"url", address}});
}

void Browser::reload() {
    in_session("POST", "/refresh");
}

void Browser::back() {
    in_session("POST", "/back");
}

std::string Browser::address() {
    return in_session("GET", "/url").get<std::string>();
}

std::string Browser::source() {
    return in_session("GET", "/source").get<std::string>();
}

std::string Browser::text() {
    for (int waited = 0; waited < 100; ++waited) {
        // Between two pages there is no body.
        const json shown = run("return document.body ? document.body.innerText : null");
        if (shown.is_string()) return shown.get<std::string>();
        usleep(50'000);
    }
    throw std::runtime_error("there is no page");
}

std::string Browser::find(const std::string& css) {
    const json found = in_session("POST", "/elements", {{"using", "css selector"}, {"value", css}});
    return found.empty() ? std::string() : found[0].at(element_key).get<std::string>();
}

std::string Browser::wait_for(const std::string& css) {
    for (int waited = 0; waited < 100; ++waited) {
        if (std::string element = find(css); !element.empty()) return element;
        usleep(50'000);
    }
    throw std::runtime_error("there is no " + css);
}

void Browser::wait_for_next_page() {
    for (int waited = 0; waited < 300; ++waited) {
        try {
            const json there = run("return !window.before_sent && document.readyState === 'complete'");
            if (there.is_boolean() && there.get<bool>()) return;
        } catch (const std::runtime_error&) {
            // A script that runs while its page goes away is refused; the next page will answer.
        }
        usleep(50'000);
    }
}

void Browser::click(const std::string& css) {
    const std::string element = wait_for(css);
    // Every button of a page without script sends a form: another page follows, which the driver does not wait for.
    const bool sends = css.find("button") != std::string::npos;
    if (sends) run("window.before_sent = true");
    in_session("POST", "/element/" + element + "/click");
    if (sends) wait_for_next_page();
}

void Browser::type(const std::string& css, const std::string& keys) {
    const std::string element = wait_for(css);
    const bool sends = keys.ends_with("\xEE\x80\x87");  // Enter
    if (sends) run("window.before_sent = true");
    in_session("POST", "/element/" + element + "/value", {{"text", keys}});
    if (sends) wait_for_next_page();
}

json Browser::run(const std::string& body) {
    return in_session("POST", "/execute/sync", {{"script", body}, {"args", json::array()}});
}

std::vector<std::string> Browser::console_errors() {
    std::vector<std::string> errors;
    for (const json& entry : in_session("POST", "/se/log", {{"type", "browser"}})) {
        const std::string level = entry.value("level", "");
        if (level == "SEVERE" || level == "WARNING") errors.push_back(entry.value("message", ""));
    }
    return errors;
}

std::string Browser::new_tab() {
    return in_session("POST", "/window/new", {{"type", "tab"}}).at("handle").get<std::string>();
}

std::string Browser::tab() {
    return in_session("GET", "/window").get<std::string>();
}

void Browser::to_tab(const std::string& tab) {
    in_session("POST", "/window", {{"handle", tab}});
}

std::string Browser::pdf(double width_cm, double height_cm) {
    return in_session("POST", "/print", {{"page", {{"width", width_cm}, {"height", height_cm}}}, {"background", true}})
        .get<std::string>();
}

void Browser::as_printed(bool on) {
    in_session("POST", "/goog/cdp/execute",
               {{"cmd", "Emulation.setEmulatedMedia"}, {"params", {{"media", on ? "print" : ""}}}});
}

}  // namespace voltfall::testing
