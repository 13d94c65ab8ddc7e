// Reports of the scenarios as a browser without a network shows and prints them.
#include <filesystem>

#include "tests/browser/page_checks.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;
using namespace voltfall::testing;
namespace fs = std::filesystem;

namespace {

/// One job of each folder is enough in CI; VOLTFALL_ALL_REPORTS=1 opens the reports of all.
std::vector<std::string> files_to_report() {
    const std::string scenarios = std::string(PROJECT_DIR) + "/scenarios/";
    std::vector<std::string> files;
    for (const char* name : {"bookmobile/weak-air.job.toml", "bookmobile/weak-air-done.job.toml",
                             "bookmobile/cab-blower.toml", "electronic/full-speed.job.toml", "lessons/dark-lamp.toml"})
        files.push_back(scenarios + name);
    if (std::getenv("VOLTFALL_ALL_REPORTS") == nullptr) return files;
    files.clear();
    for (const auto& entry : fs::recursive_directory_iterator(scenarios))
        if (entry.path().extension() == ".toml" && entry.path().string().find("expected") == std::string::npos)
            files.push_back(entry.path().string());
    std::sort(files.begin(), files.end());
    return files;
}

}  // namespace

TEST_CASE("reports open from disk without a network, fit a phone and print whole") {
    if (!browser_is_installed()) {
        WARN("chromium and its driver are not installed: nothing was checked");
        return;
    }
    Browser browser(true);
    for (const std::string& file : files_to_report()) {
        const ScratchFile page("report.html");
        const Said said = command_line({"report", file, "-o", page.path()});
        INFO(file << "\n" << said.err);
        if (said.status != 0 && std::getenv("VOLTFALL_ALL_REPORTS") != nullptr) continue;  // no circuit or job
        REQUIRE(said.status == 0);
        for (const auto& [width, height] : {std::pair{320, 640}, {360, 640}, {1280, 800}}) {
            browser.resize(width, height);
            browser.open("file://" + page.path());
            INFO("at " << width);
            CHECK(browser.text().size() > 200);
            CHECK(sideways(browser) == std::vector<std::string>{});
        }
        CHECK(faint_texts(browser) == std::vector<std::string>{});
        CHECK(cut_on_paper(browser) == std::vector<std::string>{});
        CHECK(browser.console_errors() == std::vector<std::string>{});
        // "JVBERi" is "%PDF-" in base 64.
        CHECK(browser.pdf(21.0, 29.7).starts_with("JVBERi"));
        CHECK(browser.pdf(21.59, 27.94).starts_with("JVBERi"));
    }
}
