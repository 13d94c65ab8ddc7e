#include "netlists/text/csv.hpp"

#include <csv.h>

#include <algorithm>
#include <exception>
#include <new>
#include <utility>

namespace voltfall {

namespace {

std::string csv_field(const std::string& text) {
    if (text.find_first_of(",\"\n\r") == std::string::npos) return text;
    std::string quoted = "\"";
    for (const char c : text) {
        if (c == '"') quoted += '"';
        quoted += c == '\n' || c == '\r' ? ' ' : c;
    }
    return quoted + "\"";
}

struct Rows {
    std::vector<CsvRow> rows;
    std::optional<std::size_t> unclosed;  ///< line on which the field begins whose quotes nothing closes
};

/// Has libcsv cut a text, a line at a time: it tells no lines itself.
class RowReader {
public:
    explicit RowReader(char separator) {
        if (csv_init(&parser_, 0) != 0) throw std::bad_alloc();
        csv_set_delim(&parser_, static_cast<unsigned char>(separator));
        // Blanks around a field are the field's; whoever reads it trims it.
        csv_set_space_func(&parser_, [](unsigned char) { return 0; });
        csv_set_blk_size(&parser_, field_block);
    }
    ~RowReader() { csv_free(&parser_); }
    RowReader(const RowReader&) = delete;
    RowReader& operator=(const RowReader&) = delete;

    Rows read(std::string_view text) {
        if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
        while (!text.empty()) {
            const std::size_t length = std::min(text.find('\n'), text.size() - 1) + 1;
            if (!within_row_) row_.line = field_line_ = line_;
            take(text.substr(0, length));
            text.remove_prefix(length);
            ++line_;
        }
        // A line end more ends the last row, unless a field still holds it.
        if (within_row_) take("\n");
        if (within_row_) result_.unclosed = field_line_;
        const bool ended = csv_fini(&parser_, field_ended, row_ended, this) == 0;
        rethrow();
        if (!ended) throw std::bad_alloc();
        return std::move(result_);
    }

private:
    static constexpr std::size_t field_block = 4096;

    void take(std::string_view piece) {
        within_row_ = within_row_ || piece.find_first_not_of("\r\n") != std::string_view::npos;
        const std::size_t taken = csv_parse(&parser_, piece.data(), piece.size(), field_ended, row_ended, this);
        rethrow();
        if (taken != piece.size()) throw std::bad_alloc();
    }
    /// libcsv is C: an exception waits until the library has returned.
    void rethrow() {
        if (failure_) std::rethrow_exception(std::exchange(failure_, nullptr));
    }
    template <class Work>
    static void held(void* reader, const Work& work) noexcept {
        auto& self = *static_cast<RowReader*>(reader);
        if (self.failure_) return;
        try {
            work(self);
        } catch (...) {
            self.failure_ = std::current_exception();
        }
    }
    static void field_ended(void* text, std::size_t length, void* reader) {
        held(reader, [&](RowReader& self) {
            self.row_.fields.emplace_back(static_cast<const char*>(text), length);
            self.field_line_ = self.line_;
        });
    }
    static void row_ended(int, void* reader) {
        held(reader, [](RowReader& self) {
            const bool says_something = self.row_.fields.size() > 1 || !self.row_.fields.front().empty();
            if (says_something) self.result_.rows.push_back(std::move(self.row_));
            self.row_ = {self.line_, {}};
            self.within_row_ = false;
        });
    }

    csv_parser parser_{};
    Rows result_;
    std::exception_ptr failure_;
    CsvRow row_{1, {}};
    std::size_t line_{1};
    std::size_t field_line_{1};  ///< on which the field begins that is being read
    bool within_row_{false};
};

}  // namespace

std::vector<CsvRow> cut_csv(std::string_view text, char separator) {
    return RowReader(separator).read(text).rows;
}

std::optional<std::size_t> unclosed_quote(std::string_view text, char separator) {
    return RowReader(separator).read(text).unclosed;
}

std::string spreadsheet_text(const std::string& text) {
    const auto first = text.find_first_not_of(' ');
    const bool formula =
        first != std::string::npos && std::string_view("=+-@\t\r").find(text[first]) != std::string_view::npos;
    return formula ? "'" + text : text;
}

std::string csv_line(std::span<const std::string> fields) {
    std::string line;
    for (std::size_t i = 0; i < fields.size(); ++i) line += (i > 0 ? "," : "") + csv_field(fields[i]);
    return line + "\n";
}

}  // namespace voltfall
