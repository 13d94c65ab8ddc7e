#include "cli/serve/request.hpp"

#include <fmt/format.h>

#include <utility>

#include "cli/report/html_page.hpp"

namespace voltfall {

namespace {

std::string found_in(const std::map<std::string, std::string>& values, const std::string& name) {
    const auto found = values.find(name);
    return found == values.end() ? std::string() : found->second;
}

}  // namespace

HttpResponse see_other(std::string location) {
    HttpResponse response;
    response.status = 303;
    response.location = std::move(location);
    return response;
}

HttpResponse refused(int status, const std::string& why, const std::string& typed) {
    HtmlPage page;
    page.heading(1, "Not answered");
    page.paragraph(why);
    if (!typed.empty()) page.labelled("Typed, and not kept:", typed, "bad");
    HttpResponse response;
    response.status = status;
    response.body = page.file("Not answered", "", PageForms::none);
    return response;
}

std::string query_text(const std::string& text) {
    std::string out;
    for (const char c : text) {
        const bool plain =
            (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
        out += plain ? std::string(1, c) : fmt::format("%{:02X}", static_cast<unsigned char>(c));
    }
    return out;
}

std::string field_of(const HttpRequest& request, const std::string& name) {
    return found_in(request.form, name);
}

std::string query_of(const HttpRequest& request, const std::string& name) {
    return found_in(request.query, name);
}

}  // namespace voltfall
