#include "netlists/files/source_lines.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "netlists/text/characters.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

constexpr char32_t replacement = 0xFFFD;

/// The first of its sort on a line and how many there are.
struct Found {
    std::size_t line{};
    std::size_t column{};
    char32_t what{};
    std::size_t count{0};
};

/// All of one sort, by their lines.
class Findings {
public:
    void add(std::size_t line, std::size_t column, char32_t character) {
        if (lines_.empty() || lines_.back().line != line) lines_.push_back({line, column, character, 0});
        ++lines_.back().count;
        ++count_;
    }
    const std::vector<Found>& lines() const { return lines_; }
    std::size_t count() const { return count_; }

private:
    std::vector<Found> lines_;
    std::size_t count_{0};
};

class LineCutter {
public:
    explicit LineCutter(const std::string& path) { text_.path = path; }

    void cut(std::string_view bytes) {
        // Some editors end lines with a carriage return alone.
        const char line_end = bytes.find('\n') == std::string_view::npos ? '\r' : '\n';
        while (true) {
            const std::size_t end = bytes.find(line_end);
            const bool last = end == std::string_view::npos;
            std::string_view line = bytes.substr(0, end);
            if (!last && !line.empty() && line.back() == '\r') line.remove_suffix(1);
            text_.lines.emplace_back(characters(line));
            if (last) return;
            bytes.remove_prefix(end + 1);
        }
    }

    SourceText text_;
    Findings bad_bytes_;
    Findings controls_;
    Findings zeros_;

private:
    std::u32string characters(std::string_view line) {
        std::u32string text;
        for (const Character& character : characters_of(line)) {
            const char32_t code = character.code;
            if (!character.valid) {
                bad_bytes_.add(text_.lines.size(), text.size(), code);
                text += replacement;
            } else if (is_control(code) && code != '\t') {
                (code == 0 ? zeros_ : controls_).add(text_.lines.size(), text.size(), code);
                text += U' ';
            } else {
                text += code;
            }
        }
        return text;
    }
};

std::string and_more(std::size_t count) {
    return count > 1 ? fmt::format(", and {} more", count - 1) : "";
}

/// More than this share of bytes that are no text: another sort of file, which is one problem and not many.
constexpr double most_bad_share = 0.05;

}  // namespace

const SharedText& SourceLine::shown() const {
    if (shown_.empty() && !typed_.empty()) shown_ = write_utf8(typed_);
    return shown_;
}

SourceLine::SourceLine(std::u32string typed) : typed_(std::move(typed)), text_(typed_), index_(text_.size() + 1) {
    for (std::size_t i = 0; i < index_.size(); ++i) index_[i] = i;
}

std::size_t SourceLine::typed_index(std::size_t at) const {
    return index_[std::min(at, text_.size())];
}

void SourceLine::replace(std::size_t at, std::size_t count, std::u32string_view with) {
    at = std::min(at, text_.size());
    count = std::min(count, text_.size() - at);
    const std::size_t points_at = index_[at];
    text_.replace(at, count, with);
    // One for one, every new character keeps the column of the one that it replaces.
    if (with.size() == count) return;
    const auto first = index_.begin() + static_cast<std::ptrdiff_t>(at);
    const auto gap = index_.erase(first, first + static_cast<std::ptrdiff_t>(count));
    index_.insert(gap, with.size(), points_at);
}

SourcePlace SourceText::place(std::size_t line, std::size_t at, std::size_t length) const {
    if (line >= lines.size()) return {path, static_cast<int>(lines.size()), 1, 1, ""};
    const SourceLine& source = lines[line];
    const std::size_t begin = source.typed_index(at);
    const std::size_t end = source.typed_index(at + length);
    return {path, static_cast<int>(line + 1), static_cast<int>(begin + 1),
            static_cast<int>(end > begin ? end - begin : 1), source.shown()};
}

std::string SourceText::repaired() const {
    std::string text;
    for (const SourceLine& line : lines) {
        text += write_utf8(line.text());
        text += '\n';
    }
    return text;
}

std::string write_utf8(std::u32string_view characters) {
    std::string bytes;
    bytes.reserve(characters.size());
    const auto tail = [&](char32_t c, int shift) { bytes += static_cast<char>(0x80 | ((c >> shift) & 0x3F)); };
    for (const char32_t c : characters) {
        if (c < 0x80) {
            bytes += static_cast<char>(c);
        } else if (c < 0x800) {
            bytes += static_cast<char>(0xC0 | (c >> 6));
            tail(c, 0);
        } else if (c < 0x10000) {
            bytes += static_cast<char>(0xE0 | (c >> 12));
            tail(c, 6);
            tail(c, 0);
        } else {
            bytes += static_cast<char>(0xF0 | (c >> 18));
            tail(c, 12);
            tail(c, 6);
            tail(c, 0);
        }
    }
    return bytes;
}

std::optional<SourceText> cut_lines(std::string_view bytes, const std::string& path, Problems& problems) {
    constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
    // A file that was saved twice by some editors begins with two.
    while (bytes.substr(0, byte_order_mark.size()) == byte_order_mark) bytes.remove_prefix(byte_order_mark.size());
    if (const auto mark = bytes.substr(0, 2); mark == "\xFF\xFE" || mark == "\xFE\xFF") {
        problems.error(ProblemCode::not_utf8, {path, 0, 0, 1, {}}, "the file is UTF-16 text", "save the file as UTF-8");
        return std::nullopt;
    }
    const auto line_ends =
        std::max(std::count(bytes.begin(), bytes.end(), '\n'), std::count(bytes.begin(), bytes.end(), '\r'));
    if (static_cast<std::size_t>(line_ends) > most_lines) {
        problems.error(ProblemCode::too_many, {path, static_cast<int>(most_lines) + 1, 1, 1, {}},
                       fmt::format("the file has {} lines; at most {} are read", line_ends + 1, most_lines),
                       "is this the right file?");
        return std::nullopt;
    }
    LineCutter cutter(path);
    cutter.cut(bytes);
    const auto place = [&](const Found& found) {
        SourcePlace at = cutter.text_.place(found.line, found.column);
        if (at.text.size() > 400) at.text.clear();  // a caret under a line of rubbish helps nobody
        return at;
    };
    if (cutter.zeros_.count() > 0) {
        const Found& found = cutter.zeros_.lines().front();
        problems.error(ProblemCode::not_a_text, place(found),
                       fmt::format("a NUL byte{}: this is not a text file", and_more(cutter.zeros_.count())),
                       "save the file as plain text in UTF-8");
        return std::nullopt;
    }
    const auto report_bad_byte = [&](const Found& found, std::size_t count) {
        problems.error(
            ProblemCode::not_utf8, place(found),
            fmt::format("byte 0x{:02X} is not UTF-8 text{}", static_cast<unsigned>(found.what), and_more(count)),
            "save the file as UTF-8");
    };
    if (static_cast<double>(cutter.bad_bytes_.count()) > most_bad_share * static_cast<double>(bytes.size())) {
        report_bad_byte(cutter.bad_bytes_.lines().front(), cutter.bad_bytes_.count());
        return std::nullopt;
    }
    for (const Found& found : cutter.bad_bytes_.lines()) report_bad_byte(found, found.count);
    for (const Found& found : cutter.controls_.lines()) {
        problems.error(ProblemCode::control_character, place(found),
                       fmt::format("control character {}{}", code_point_name(found.what), and_more(found.count)),
                       "delete it; it cannot be seen");
    }
    for (std::size_t i = 0; i < cutter.text_.lines.size(); ++i) {
        const std::size_t length = cutter.text_.lines[i].typed().size();
        if (length <= longest_line) continue;
        problems.error(ProblemCode::too_long, {cutter.text_.path, static_cast<int>(i + 1), 1, 1, {}},
                       fmt::format("the line has {} characters; at most {} are read", length, longest_line),
                       "is this the right file? else break the line");
        return std::nullopt;
    }
    return std::move(cutter.text_);
}

}  // namespace voltfall
