// A request and its answer as plain values; the library's own types stay in http_server.cpp.
#pragma once

#include <map>
#include <string>

namespace voltfall {

enum class Role { worker, teacher };

/// Who asks, as the gate has found out.
struct Visitor {
    int number{0};  ///< of the browser, in the order in which they came; from 1
    Role role{Role::worker};
};

struct HttpRequest {
    std::string method;  ///< "GET", "POST"
    std::string path;    ///< "/answer", decoded, without its query
    std::map<std::string, std::string> query;
    std::map<std::string, std::string> form;  ///< of a POST
    std::string host;                         ///< of the Host header
    std::string origin;                       ///< of the Origin header; empty where a browser sends none
    std::string session;                      ///< of our cookie
    bool too_large{false};                    ///< the body was longer than `largest_body`, and is not here
    Visitor visitor;                          ///< once the gate has let it pass
};

struct HttpResponse {
    int status{200};
    std::string body;      ///< HTML
    std::string location;  ///< of a redirect
    std::string session;   ///< a cookie to set; empty: none
    bool in_frame{false};  ///< may stand in a frame of our own pages
};

/// Bytes of a body that is read; a reading is one line.
inline constexpr std::size_t largest_body = 16 * 1024;

/// 303: the browser gets the other page, and its back button repeats nothing.
HttpResponse see_other(std::string location);
/// A plain page that says what was wrong; `typed` is shown where something was sent that is not kept.
HttpResponse refused(int status, const std::string& why, const std::string& typed = {});

/// A text as a value of a query, every odd byte as %XX.
std::string query_text(const std::string& text);
/// A field of a form, empty where it was not sent.
std::string field_of(const HttpRequest& request, const std::string& name);
/// The same of a query.
std::string query_of(const HttpRequest& request, const std::string& name);

}  // namespace voltfall
