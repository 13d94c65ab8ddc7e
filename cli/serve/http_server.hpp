// HTTP on the loopback address, by GNU libmicrohttpd: it reads and writes the protocol, nothing here does.
#pragma once

#include <functional>
#include <memory>

#include "cli/serve/request.hpp"

namespace voltfall {

class HttpServer {
public:
    using Answer = std::function<HttpResponse(const HttpRequest&)>;

    /// Listens on 127.0.0.1 at `port` (0: one that is free). Throws std::runtime_error where it cannot.
    HttpServer(int port, Answer answer);
    ~HttpServer();
    HttpServer(const HttpServer&) = delete;
    HttpServer& operator=(const HttpServer&) = delete;

    int port() const;
    /// Answers requests, one at a time, in the calling thread, until `stop` says so; it is asked several times a
    /// second.
    void run_until(const std::function<bool()>& stop);

private:
    struct Daemon;
    std::unique_ptr<Daemon> daemon_;
};

}  // namespace voltfall
