// `--format plain`: one record a line, fields separated by tabs, the first field names the record.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace voltfall {

class PlainRecords {
public:
    /// Writes one record. Tabs and line ends inside a field become blanks.
    void record(const std::vector<std::string>& fields);
    const std::string& text() const { return text_; }

    /// A field of a number (twelve digits) or an empty one.
    static std::string number(std::optional<double> value);
    static std::string yes_no(bool value);
    static std::string joined(const std::vector<std::string>& items);

private:
    std::string text_;
};

}  // namespace voltfall
