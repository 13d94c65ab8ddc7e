// HTTP on one address of this machine, by GNU libmicrohttpd: it reads and writes the protocol, nothing here does.
#pragma once

#include <functional>
#include <memory>
#include <string>

#include "cli/serve/request.hpp"

namespace voltfall {

class HttpServer {
public:
    /// The request is the server's to change: the gate writes into it who asks.
    using Answer = std::function<HttpResponse(HttpRequest&)>;

    /// Listens on an address ("127.0.0.1") at `port` (0: one that is free). Throws std::runtime_error where it cannot.
    HttpServer(const std::string& address, int port, Answer answer);
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
