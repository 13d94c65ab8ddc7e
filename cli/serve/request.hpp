// A request and its answer as plain values; the library's own types stay in http_server.cpp.
#pragma once

#include <map>
#include <string>

namespace voltfall {

struct HttpRequest {
    std::string method;  ///< "GET", "POST"
    std::string path;    ///< "/answer", decoded, without its query
    std::map<std::string, std::string> query;
    std::map<std::string, std::string> form;  ///< of a POST
    std::string host;                         ///< of the Host header
    std::string origin;                       ///< of the Origin header; empty where a browser sends none
    std::string session;                      ///< of our cookie
    bool too_large{false};                    ///< the body was longer than `largest_body`, and is not here
};

struct HttpResponse {
    int status{200};
    std::string body;      ///< HTML
    std::string location;  ///< of a redirect
    std::string session;   ///< a cookie to set; empty: none
};

/// Bytes of a body that is read; a reading is one line.
inline constexpr std::size_t largest_body = 16 * 1024;

/// 303: the browser gets the other page, and its back button repeats nothing.
HttpResponse see_other(std::string location);
/// A plain page that says what was wrong.
HttpResponse refused(int status, const std::string& why);

}  // namespace voltfall
