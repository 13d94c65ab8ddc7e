#include "cli/views/plain_records.hpp"

#include "cli/views/figures.hpp"

namespace voltfall {

void PlainRecords::record(const std::vector<std::string>& fields) {
    for (std::size_t i = 0; i < fields.size(); ++i) {
        if (i > 0) text_ += '\t';
        for (const char c : fields[i]) text_ += c == '\t' || c == '\n' || c == '\r' ? ' ' : c;
    }
    text_ += '\n';
}

std::string PlainRecords::number(std::optional<double> value) {
    return value ? plain_number(*value) : "";
}

std::string PlainRecords::yes_no(bool value) {
    return value ? "yes" : "no";
}

std::string PlainRecords::joined(const std::vector<std::string>& items) {
    std::string text;
    for (const std::string& item : items) text += (text.empty() ? "" : "; ") + item;
    return text;
}

}  // namespace voltfall
