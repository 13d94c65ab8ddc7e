// Debian's chromium, driven through its WebDriver (W3C) by plain HTTP and JSON.
#pragma once

#include <sys/types.h>

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace voltfall::testing {

/// Is chromium with its driver installed? Where it is not, a test says so and checks nothing.
bool browser_is_installed();

/// A window without a screen. Throws std::runtime_error where the driver refuses what it is asked for.
class Browser {
public:
    /// `offline`: no host is found, not even this machine by a name.
    explicit Browser(bool offline = false);
    ~Browser();
    Browser(const Browser&) = delete;
    Browser& operator=(const Browser&) = delete;

    /// A screen of so many CSS pixels, of a phone where it is narrower than 700.
    void resize(int width, int height);
    void open(const std::string& address);
    void reload();
    void back();
    std::string address();
    std::string source();
    std::string text();  ///< what is seen
    /// The element's id, or empty. `css` is a selector.
    std::string find(const std::string& css);
    void click(const std::string& css);
    /// Types into it, as from a keyboard; "\uE007" is Enter.
    void type(const std::string& css, const std::string& keys);
    /// A function body that is run in the page; its value.
    nlohmann::json run(const std::string& body);
    /// What the page has written to the console since the last time that is no mere note.
    std::vector<std::string> console_errors();
    std::string new_tab();
    std::string tab();
    void to_tab(const std::string& tab);
    /// The page as PDF on paper of so many centimetres.
    std::string pdf(double width_cm, double height_cm);
    void as_printed(bool on);

private:
    /// Until the page that a form or the Enter key asks for has come, 15 s at most.
    void wait_for_next_page();
    /// The element's id, once it is there; throws where it does not come.
    std::string wait_for(const std::string& css);
    nlohmann::json ask(const std::string& method, const std::string& path,
                       const nlohmann::json& body = nlohmann::json::object());
    nlohmann::json in_session(const std::string& method, const std::string& path,
                              const nlohmann::json& body = nlohmann::json::object());

    pid_t driver_{-1};
    int port_{0};
    std::string session_;
    std::string profile_;
};

}  // namespace voltfall::testing
