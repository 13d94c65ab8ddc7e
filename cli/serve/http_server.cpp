#include "cli/serve/http_server.hpp"

#include <arpa/inet.h>
#include <microhttpd.h>
#include <netinet/in.h>

#include <exception>
#include <stdexcept>
#include <string>
#include <utility>

namespace voltfall {

namespace {

// Limits: one person's browser needs a handful of connections.
constexpr unsigned most_connections = 32;
constexpr unsigned seconds_to_wait = 15;
constexpr std::size_t memory_a_connection = 32 * 1024;
constexpr std::size_t most_fields = 12;
constexpr const char* cookie_name = "voltfall";

/// A request while its body comes in.
struct Incoming {
    HttpRequest request;
    MHD_PostProcessor* post{nullptr};
    std::size_t bytes{0};

    ~Incoming() {
        if (post != nullptr) MHD_destroy_post_processor(post);
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

MHD_Result send(MHD_Connection* connection, const HttpResponse& answer) {
    MHD_Response* response = MHD_create_response_from_buffer(answer.body.size(), const_cast<char*>(answer.body.data()),
                                                             MHD_RESPMEM_MUST_COPY);
    if (response == nullptr) return MHD_NO;
    const auto header = [&](const char* name, const std::string& value) {
        MHD_add_response_header(response, name, value.c_str());
    };
    header("Content-Type", "text/html; charset=utf-8");
    header("Content-Security-Policy",
           "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'self'; "
           "frame-ancestors 'none'");
    header("X-Frame-Options", "DENY");
    header("X-Content-Type-Options", "nosniff");
    header("Referrer-Policy", "same-origin");
    header("Cross-Origin-Opener-Policy", "same-origin");
    header("Cache-Control", "no-store");
    if (!answer.location.empty()) header("Location", answer.location);
    if (!answer.session.empty())
        header("Set-Cookie", std::string(cookie_name) + "=" + answer.session + "; Path=/; HttpOnly; SameSite=Strict");
    const MHD_Result queued = MHD_queue_response(connection, static_cast<unsigned>(answer.status), response);
    MHD_destroy_response(response);
    return queued;
}

}  // namespace

struct HttpServer::Daemon {
    Answer answer;
    MHD_Daemon* daemon{nullptr};

    static MHD_Result handle(void* self, MHD_Connection* connection, const char* url, const char* method, const char*,
                             const char* data, std::size_t* size, void** kept) {
        auto* incoming = static_cast<Incoming*>(*kept);
        if (incoming == nullptr) {
            *kept = begin(connection, url, method).release();
            return MHD_YES;
        }
        if (*size > 0) {
            incoming->bytes += *size;
            incoming->request.too_large |= incoming->bytes > largest_body;
            if (incoming->post != nullptr && !incoming->request.too_large)
                MHD_post_process(incoming->post, data, *size);
            *size = 0;
            return MHD_YES;
        }
        // An exception must not pass through the library, which is C.
        try {
            return send(connection, static_cast<Daemon*>(self)->answer(incoming->request));
        } catch (const std::exception&) {
            return send(connection, refused(500, "This request could not be answered; the readings are as they were."));
        }
    }

    static std::unique_ptr<Incoming> begin(MHD_Connection* connection, const char* url, const char* method) {
        auto incoming = std::make_unique<Incoming>();
        HttpRequest& request = incoming->request;
        request.method = text_or_empty(method);
        request.path = text_or_empty(url);
        const auto header = [&](const char* name) {
            return text_or_empty(MHD_lookup_connection_value(connection, MHD_HEADER_KIND, name));
        };
        request.host = header("Host");
        request.origin = header("Origin");
        request.session = text_or_empty(MHD_lookup_connection_value(connection, MHD_COOKIE_KIND, cookie_name));
        MHD_get_connection_values(connection, MHD_GET_ARGUMENT_KIND, keep_query, &request.query);
        if (request.method == "POST")
            incoming->post = MHD_create_post_processor(connection, 4096, keep_field, incoming.get());
        return incoming;
    }

    static void done(void*, MHD_Connection*, void** kept, MHD_RequestTerminationCode) {
        delete static_cast<Incoming*>(*kept);
        *kept = nullptr;
    }
};

HttpServer::HttpServer(int port, Answer answer) : daemon_(std::make_unique<Daemon>()) {
    daemon_->answer = std::move(answer);
    sockaddr_in loopback{};
    loopback.sin_family = AF_INET;
    loopback.sin_port = htons(static_cast<std::uint16_t>(port));
    loopback.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    daemon_->daemon = MHD_start_daemon(
        MHD_NO_FLAG, static_cast<std::uint16_t>(port), nullptr, nullptr, &Daemon::handle, daemon_.get(),
        MHD_OPTION_SOCK_ADDR, reinterpret_cast<sockaddr*>(&loopback), MHD_OPTION_CONNECTION_LIMIT, most_connections,
        MHD_OPTION_CONNECTION_TIMEOUT, seconds_to_wait, MHD_OPTION_CONNECTION_MEMORY_LIMIT, memory_a_connection,
        MHD_OPTION_STRICT_FOR_CLIENT, 1, MHD_OPTION_NOTIFY_COMPLETED, &Daemon::done, nullptr, MHD_OPTION_END);
    if (daemon_->daemon == nullptr)
        throw std::runtime_error("cannot listen on 127.0.0.1:" + std::to_string(port) + "; is the port taken?");
}

HttpServer::~HttpServer() {
    if (daemon_->daemon != nullptr) MHD_stop_daemon(daemon_->daemon);
}

int HttpServer::port() const {
    const MHD_DaemonInfo* info = MHD_get_daemon_info(daemon_->daemon, MHD_DAEMON_INFO_BIND_PORT);
    return info == nullptr ? 0 : info->port;
}

void HttpServer::run_until(const std::function<bool()>& stop) {
    constexpr int milliseconds = 200;
    while (!stop()) MHD_run_wait(daemon_->daemon, milliseconds);
}

}  // namespace voltfall
