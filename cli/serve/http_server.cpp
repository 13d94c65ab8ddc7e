#include "cli/serve/http_server.hpp"

#include <algorithm>
#include <exception>
#include <stdexcept>
#include <string>
#include <utility>

#include "cli/serve/http_library.hpp"
#include "netlists/platform/process.hpp"
#include "netlists/platform/socket_address.hpp"

namespace voltfall {

namespace {

// Limits: a browser keeps up to six connections, a class has some tens of browsers. Who opens a thousand and says
// nothing is dropped after the wait, and meanwhile there is room for others.
constexpr unsigned most_connections = 1500;
constexpr unsigned seconds_to_wait = 10;
constexpr unsigned long files_beside = 100;
constexpr std::size_t memory_a_connection = 32 * 1024;
constexpr std::size_t most_fields = 12;

/// Cookies know no ports: two servers of one machine must not take each other's.
std::string cookie_name(int port) {
    return "voltfall-" + std::to_string(port);
}

/// Raises the limit of open files to what the connections need; how many connections fit in.
unsigned room_for_connections() {
    const auto files = room_for_open_files(most_connections + files_beside);
    if (!files) return 32;
    return static_cast<unsigned>(std::clamp<unsigned long>(*files - files_beside, 8, most_connections));
}

/// A request while its body comes in.
struct Incoming {
    HttpRequest request;
    MHD_PostProcessor* post{nullptr};
    std::size_t bytes{0};

    ~Incoming() {
        if (post != nullptr) http_library().destroy_post_processor(post);
    }
};

std::string text_or_empty(const char* text) {
    return text == nullptr ? std::string() : std::string(text);
}

MHD_Result keep_query(void* into, MHD_ValueKind, const char* key, const char* value) {
    auto& query = *static_cast<std::map<std::string, std::string>*>(into);
    if (query.size() < most_fields) query[text_or_empty(key)] = text_or_empty(value);
    return MHD_YES;
}

MHD_Result keep_field(void* into, MHD_ValueKind, const char* key, const char*, const char*, const char*,
                      const char* data, std::uint64_t offset, std::size_t size) {
    auto& form = static_cast<Incoming*>(into)->request.form;
    const std::string name = text_or_empty(key);
    if (form.size() >= most_fields && !form.contains(name)) return MHD_NO;
    if (offset == 0) form[name].clear();
    form[name].append(data, size);
    return MHD_YES;
}

MHD_Result send(MHD_Connection* connection, const HttpResponse& answer, int port) {
    MHD_Response* response = http_library().create_response_from_buffer(
        answer.body.size(), const_cast<char*>(answer.body.data()), MHD_RESPMEM_MUST_COPY);
    if (response == nullptr) return MHD_NO;
    const auto header = [&](const char* name, const std::string& value) {
        http_library().add_response_header(response, name, value.c_str());
    };
    header("Content-Type", "text/html; charset=utf-8");
    std::string policy =
        "default-src 'none'; style-src 'unsafe-inline'; img-src data:; frame-src 'self'; base-uri 'none'; "
        "form-action 'self'; frame-ancestors ";
    policy.append(answer.in_frame ? "'self'" : "'none'");
    header("Content-Security-Policy", policy);
    header("X-Frame-Options", answer.in_frame ? "SAMEORIGIN" : "DENY");
    header("X-Content-Type-Options", "nosniff");
    header("Referrer-Policy", "same-origin");
    header("Cross-Origin-Opener-Policy", "same-origin");
    header("Cache-Control", "no-store");
    if (!answer.location.empty()) header("Location", answer.location);
    if (!answer.session.empty())
        header("Set-Cookie", cookie_name(port) + "=" + answer.session + "; Path=/; HttpOnly; SameSite=Strict");
    const MHD_Result queued = http_library().queue_response(connection, static_cast<unsigned>(answer.status), response);
    http_library().destroy_response(response);
    return queued;
}

}  // namespace

struct HttpServer::Daemon {
    Answer answer;
    MHD_Daemon* daemon{nullptr};
    int port{0};

    static MHD_Result handle(void* self, MHD_Connection* connection, const char* url, const char* method, const char*,
                             const char* data, std::size_t* size, void** kept) {
        auto* incoming = static_cast<Incoming*>(*kept);
        if (incoming == nullptr) {
            *kept = static_cast<Daemon*>(self)->begin(connection, url, method).release();
            return MHD_YES;
        }
        if (*size > 0) {
            incoming->bytes += *size;
            incoming->request.too_large |= incoming->bytes > largest_body;
            if (incoming->post != nullptr && !incoming->request.too_large)
                http_library().post_process(incoming->post, data, *size);
            *size = 0;
            return MHD_YES;
        }
        // An exception must not pass through the library, which is C.
        const auto& daemon = *static_cast<Daemon*>(self);
        try {
            return send(connection, daemon.answer(incoming->request), daemon.port);
        } catch (const std::exception&) {
            return send(connection, refused(500, "This request could not be answered; the readings are as they were."),
                        daemon.port);
        }
    }

    std::unique_ptr<Incoming> begin(MHD_Connection* connection, const char* url, const char* method) const {
        auto incoming = std::make_unique<Incoming>();
        HttpRequest& request = incoming->request;
        request.method = text_or_empty(method);
        request.path = text_or_empty(url);
        const auto header = [&](const char* name) {
            return text_or_empty(http_library().lookup_connection_value(connection, MHD_HEADER_KIND, name));
        };
        request.host = header("Host");
        request.origin = header("Origin");
        request.session = text_or_empty(
            http_library().lookup_connection_value(connection, MHD_COOKIE_KIND, cookie_name(port).c_str()));
        http_library().get_connection_values(connection, MHD_GET_ARGUMENT_KIND, keep_query, &request.query);
        if (request.method == "POST")
            incoming->post = http_library().create_post_processor(connection, 4096, keep_field, incoming.get());
        return incoming;
    }

    static void done(void*, MHD_Connection*, void** kept, MHD_RequestTerminationCode) {
        delete static_cast<Incoming*>(*kept);
        *kept = nullptr;
    }
};

HttpServer::HttpServer(const std::string& address, int port, Answer answer) : daemon_(std::make_unique<Daemon>()) {
    daemon_->answer = std::move(answer);
    auto at = SocketAddress::of(address, static_cast<std::uint16_t>(port));
    if (!at) throw std::runtime_error(address + " is no address of this machine");
    daemon_->daemon = http_library().start_daemon(
        MHD_USE_AUTO, static_cast<std::uint16_t>(port), nullptr, nullptr, &Daemon::handle, daemon_.get(),
        MHD_OPTION_SOCK_ADDR, at->system(), MHD_OPTION_CONNECTION_LIMIT, room_for_connections(),
        MHD_OPTION_CONNECTION_TIMEOUT, seconds_to_wait, MHD_OPTION_CONNECTION_MEMORY_LIMIT, memory_a_connection,
        MHD_OPTION_STRICT_FOR_CLIENT, 1, MHD_OPTION_NOTIFY_COMPLETED, &Daemon::done, nullptr, MHD_OPTION_END);
    if (daemon_->daemon == nullptr)
        throw std::runtime_error("cannot listen on " + address + ":" + std::to_string(port) + "; is the port taken?");
    daemon_->port = this->port();
}

HttpServer::~HttpServer() {
    if (daemon_->daemon != nullptr) http_library().stop_daemon(daemon_->daemon);
}

int HttpServer::port() const {
    const MHD_DaemonInfo* info = http_library().get_daemon_info(daemon_->daemon, MHD_DAEMON_INFO_BIND_PORT);
    return info == nullptr ? 0 : info->port;
}

void HttpServer::run_until(const std::function<bool()>& stop) {
    constexpr int milliseconds = 200;
    while (!stop()) http_library().run_wait(daemon_->daemon, milliseconds);
}

}  // namespace voltfall
