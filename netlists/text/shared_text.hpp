// A text that many places point at.
#pragma once

#include <memory>
#include <ostream>
#include <string>
#include <string_view>
#include <utility>

namespace voltfall {

/// A text that does not change. A copy is a pointer: a thousand problems of one long line hold that line once.
class SharedText {
public:
    SharedText() = default;
    SharedText(std::string text)  // NOLINT(google-explicit-constructor): stands where a text stood
        : text_(text.empty() ? nullptr : std::make_shared<const std::string>(std::move(text))) {}
    SharedText(std::string_view text) : SharedText(std::string(text)) {}  // NOLINT(google-explicit-constructor)
    SharedText(const char* text) : SharedText(std::string(text)) {}       // NOLINT(google-explicit-constructor)

    const std::string& str() const {
        static const std::string none;
        return text_ ? *text_ : none;
    }
    operator const std::string&() const { return str(); }  // NOLINT(google-explicit-constructor)
    bool empty() const { return !text_; }
    std::size_t size() const { return str().size(); }
    /// Leaves the others that share the text as they are.
    void clear() { text_.reset(); }

    friend bool operator==(const SharedText& a, const SharedText& b) {
        return a.text_ == b.text_ || a.str() == b.str();
    }
    friend bool operator<(const SharedText& a, const SharedText& b) { return a.text_ != b.text_ && a.str() < b.str(); }
    friend std::ostream& operator<<(std::ostream& out, const SharedText& text) { return out << text.str(); }

private:
    std::shared_ptr<const std::string> text_;
};

}  // namespace voltfall
