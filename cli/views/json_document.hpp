// The one shape of JSON answers: `"schema": 1`, the command, numbers of twelve digits.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>

#include "cli/views/figures.hpp"

namespace voltfall {

using Json = nlohmann::ordered_json;

/// {"schema":1,"command":…}
inline Json json_answer(std::string_view command) {
    return {{"schema", 1}, {"command", command}};
}

/// A number at twelve digits; null where there is none (or where it is not finite).
inline Json json_number(std::optional<double> value) {
    return value ? Json(twelve_digits(*value)) : Json(nullptr);
}

/// Text that may be missing: null when empty.
inline Json json_text_or_null(const std::string& text) {
    return text.empty() ? Json(nullptr) : Json(text);
}

/// The object on one line with its line end. What is not UTF-8 in what a person typed is replaced, never thrown at
/// them.
inline std::string json_line(const Json& answer) {
    return answer.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace voltfall
