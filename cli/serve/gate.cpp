#include "cli/serve/gate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <stdexcept>
#include <utility>

#include "netlists/platform/process.hpp"

namespace voltfall {

namespace {

/// Compares in the same time wherever the texts differ.
bool same_secret(const std::string& one, const std::string& other) {
    if (one.size() != other.size()) return false;
    unsigned char differs = 0;
    for (std::size_t i = 0; i < one.size(); ++i) differs |= static_cast<unsigned char>(one[i] ^ other[i]);
    return differs == 0;
}

/// What a person has typed into a form that is not answered.
std::string typed_into(const HttpRequest& request) {
    for (const char* name : {"reading", "value", "line"})
        if (std::string typed = field_of(request, name); !typed.empty()) return typed;
    return {};
}

}  // namespace

Gate::Gate(std::vector<std::string> hosts, std::function<Clock::time_point()> now)
    : hosts_(std::move(hosts)), now_(std::move(now)) {}

std::string Gate::new_address(Role role, KeyUse use) {
    keys_.push_back({random_key(), role, use});
    return fmt::format("http://{}/?key={}", hosts_.front(), keys_.back().secret);
}

std::optional<HttpResponse> Gate::check(HttpRequest& request) {
    // Another name for this address is how a foreign page would reach it (rebinding).
    if (std::find(hosts_.begin(), hosts_.end(), request.host) == hosts_.end())
        return refused(403, "This page answers at its own address only.");
    if (!request.origin.empty() && request.origin != "http://" + request.host)
        return refused(403, "The request comes from another page.");
    if (request.method != "GET" && request.method != "POST") return refused(405, "Only GET and POST are answered.");
    if (request.too_large) return refused(413, "A reading is one line; this was too long.");
    for (const Session& session : sessions_) {
        if (!same_secret(request.session, session.secret)) continue;
        request.visitor = session.visitor;
        // The address typed again, by the browser that has come in with it.
        if (request.query.contains("key")) return see_other("/");
        return std::nullopt;
    }
    if (const auto key = request.query.find("key"); key != request.query.end()) return open(key->second);
    return refused(403, "Open the address that the program has printed, with its key.", typed_into(request));
}

HttpResponse Gate::open(const std::string& secret) {
    if (wrong_keys_ >= most_wrong_keys && now_() - last_wrong_ < rest_after_wrong_keys)
        return refused(403, "Keys have been guessed at; the door stays shut for a minute.");
    if (wrong_keys_ >= most_wrong_keys) wrong_keys_ = 0;
    Key* key = nullptr;
    for (Key& known : keys_)
        if (same_secret(secret, known.secret)) key = &known;
    if (key == nullptr) {
        ++wrong_keys_;
        last_wrong_ = now_();
        return refused(403, "The key is wrong.");
    }
    if (key->use == KeyUse::once && key->used)
        return refused(
            403, "This key has been used; let another browser in from the first one, or start the program again.");
    if (sessions_.size() >= most_browsers) return refused(403, "Too many browsers are in already.");
    key->used = true;
    sessions_.push_back({random_key(), {static_cast<int>(sessions_.size()) + 1, key->role}});
    HttpResponse opened = see_other("/");
    opened.session = sessions_.back().secret;
    return opened;
}

std::string random_key() {
    std::array<unsigned char, 16> bytes{};
    if (!fill_random(bytes)) throw std::runtime_error("the system gives no random numbers");
    std::string key;
    for (const unsigned char byte : bytes) key += fmt::format("{:02x}", byte);
    return key;
}

}  // namespace voltfall
