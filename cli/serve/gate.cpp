#include "cli/serve/gate.hpp"

#include <fmt/format.h>
#include <sys/random.h>

#include <array>
#include <stdexcept>
#include <utility>

#include "cli/report/html_page.hpp"

namespace voltfall {

namespace {

/// Compares in the same time wherever the texts differ.
bool same_secret(const std::string& one, const std::string& other) {
    if (one.size() != other.size()) return false;
    unsigned char differs = 0;
    for (std::size_t i = 0; i < one.size(); ++i) differs |= static_cast<unsigned char>(one[i] ^ other[i]);
    return differs == 0;
}

}  // namespace

HttpResponse see_other(std::string location) {
    HttpResponse response;
    response.status = 303;
    response.location = std::move(location);
    return response;
}

HttpResponse refused(int status, const std::string& why) {
    HtmlPage page;
    page.heading(1, "Not answered");
    page.paragraph(why);
    HttpResponse response;
    response.status = status;
    response.body = page.file("Not answered", "", PageForms::none);
    return response;
}

Gate::Gate(std::string key, std::string session, int port)
    : key_(std::move(key)), session_(std::move(session)), port_(port) {}

std::string Gate::address() const {
    return fmt::format("http://127.0.0.1:{}/?key={}", port_, key_);
}

bool Gate::own_host(const std::string& host) const {
    return host == fmt::format("127.0.0.1:{}", port_) || host == fmt::format("localhost:{}", port_);
}

std::optional<HttpResponse> Gate::check(const HttpRequest& request) {
    // Another name for this address is how a foreign page would reach it (rebinding).
    if (!own_host(request.host)) return refused(403, "This page answers at its own address only.");
    if (!request.origin.empty() && request.origin != "http://" + request.host)
        return refused(403, "The request comes from another page.");
    if (request.method != "GET" && request.method != "POST") return refused(405, "Only GET and POST are answered.");
    if (request.too_large) return refused(413, "A reading is one line; this was too long.");
    if (same_secret(request.session, session_)) return std::nullopt;
    const auto key = request.query.find("key");
    if (key == request.query.end()) return refused(403, "Open the address that the program printed, with its key.");
    if (key_used_ || wrong_keys_ >= most_wrong_keys)
        return refused(403, "This key has been used or guessed at; start the program again.");
    if (!same_secret(key->second, key_)) {
        ++wrong_keys_;
        return refused(403, "The key is wrong.");
    }
    key_used_ = true;
    HttpResponse opened = see_other("/");
    opened.session = session_;
    return opened;
}

std::string random_key() {
    std::array<unsigned char, 16> bytes{};
    if (getrandom(bytes.data(), bytes.size(), 0) != static_cast<ssize_t>(bytes.size()))
        throw std::runtime_error("the system gives no random numbers");
    std::string key;
    for (const unsigned char byte : bytes) key += fmt::format("{:02x}", byte);
    return key;
}

}  // namespace voltfall
