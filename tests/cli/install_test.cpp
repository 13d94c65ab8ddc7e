// Settings of a person, completions of shells, and the manual pages.
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>

#include "cli/commands/command.hpp"
#include "cli/commands/complete.hpp"
#include "cli/commands/manual.hpp"
#include "netlists/parts/kind.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/tools/process.hpp"

using namespace voltfall;

namespace {

using Texts = std::vector<std::string>;

bool has(const Texts& words, const std::string& word) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

/// A line run with these settings.
Said with_settings(const std::string& settings, const std::vector<std::string>& args) {
    const ScratchFile file("voltfall.toml", settings);
    Terminal terminal;
    terminal.settings = file.path();
    return command_line(args, terminal);
}

/// What bash offers for a line, by the file that is installed.
Texts offered_by_bash(const Texts& words) {
    std::string script = "source '" + std::string(PROJECT_DIR) +
                         "/cli/install/completions/voltfall.bash'; compopt() { echo FILES; }; COMP_WORDS=('" +
                         std::string(VOLTFALL_BINARY) + "'";
    for (const std::string& word : words) script += " '" + word + "'";
    script += "); COMP_CWORD=" + std::to_string(words.size()) + "; _voltfall; printf '%s\\n' \"${COMPREPLY[@]}\"";
    return lines_of(run_process({"bash", "-c", script}).out);
}

}  // namespace

TEST_CASE("commands, options, words of options and names of the circuit at hand are offered") {
    CHECK(completions({"ma"}) == Texts{"match"});
    CHECK(completions({""}).size() == commands().size());
    CHECK(completions({"nonsense", ""}).empty());
    CHECK(has(completions({"match", "--re"}), "--read"));
    CHECK(has(completions({"match", "--re"}), "--read-from"));
    CHECK_FALSE(has(completions({"match", "--re"}), "--fault"));
    CHECK(completions({"match", "--format", ""}) == Texts{"text", "json", "plain"});
    CHECK(completions({"deck", "--at", "a"}) == Texts{"after"});
    CHECK(has(completions({"check", ""}), files_mark));
    CHECK(has(completions({"report", "-o", ""}), files_mark));
    const std::string circuit = scenario("cab-blower.toml");
    CHECK(has(completions({"whatif", circuit, "--fault", "r1 lim"}), "R1 limiter open"));
    CHECK(has(completions({"whatif", circuit, "--fault", "\"R1 lim"}), "R1 limiter open"));
    CHECK(has(completions({"whatif", circuit, "--state", "h"}), "hi"));
    CHECK(has(completions({"match", scenario("weak-air.job.toml"), "--read", "hi  C101"}), "hi  C101.4"));
    CHECK(has(completions({"read", scenario("weak-air.job.toml"), "M1"}), "M1.1"));
    CHECK(completions({}).size() == commands().size());
}

TEST_CASE("bash completes by the installed file, with names that hold blanks quoted") {
    CHECK(offered_by_bash({"ma"}) == Texts{"match"});
    const std::string circuit = scenario("cab-blower.toml");
    CHECK(has(offered_by_bash({"whatif", circuit, "--fault", "R1 lim"}), "R1\\ limiter\\ open"));
    CHECK(has(offered_by_bash({"whatif", circuit, "--fault", "\"R1 lim"}), "R1 limiter open"));
    CHECK(has(offered_by_bash({"check", ""}), "FILES"));
}

TEST_CASE("zsh and fish accept their files") {
    const std::string folder = std::string(PROJECT_DIR) + "/cli/install/completions/";
    for (const auto& [shell, file] :
         {std::pair<std::string, std::string>{"zsh", "_voltfall"}, {"fish", "voltfall.fish"}}) {
        if (run_process({shell, "-c", "true"}).status != 0) {
            WARN(shell << " is not installed: its completion was not read");
            continue;
        }
        const ProcessResult said = run_process({shell, "-n", folder + file});
        INFO(shell << ": " << said.err);
        CHECK(said.status == 0);
    }
}

TEST_CASE("a person's settings give tools, width and colour, and the command line wins over them") {
    const std::string circuit = scenario("cab-blower.toml");
    const Said wide = with_settings("format = 1\ncolumns = 120\n", {"show", circuit});
    const Said narrow = with_settings("format = 1\ncolumns = 44\n", {"show", circuit});
    CHECK(narrow.status == 0);
    CHECK(widest_line(narrow.out) <= 44);
    CHECK(widest_line(wide.out) > 80);
    CHECK(contains(with_settings("format = 1\ncolor = \"always\"\n", {"check", circuit}).out, "\x1b["));
    CHECK_FALSE(contains(with_settings("format = 1\ncolor = \"always\"\n", {"check", circuit, "--color", "never"}).out,
                         "\x1b["));
    // A meter of one digit's accuracy cannot tell what a better one can.
    const std::vector<std::string> match{
        "match", circuit, "--read", "key run, hi  M1.1 to B1-  13.60V", "--read", "key run, hi B1+ to B1- 14.10V"};
    const Said usual = command_line(match);
    const Said coarse = with_settings("format = 1\ntools = [\"meter 10%+5digits\"]\n", match);
    CHECK(coarse.status != 3);
    CHECK(coarse.out != usual.out);
}

TEST_CASE("settings have a check of their own, and mistakes in them are said and not fatal") {
    const std::string text = "format = 1\ncolums = 90\ncolor = \"green\"\ntools = [\"mether\"]\n";
    const ScratchFile file("voltfall.toml", text);
    const Said checked = command_line({"check", file.path(), "--format", "json"});
    INFO(checked.out);
    CHECK(checked.status == 3);
    CHECK(contains(checked.out, "'colums' is no key of a settings file"));
    CHECK(contains(checked.out, "did you mean 'columns'?"));
    CHECK(contains(checked.out, "color is auto, always or never"));
    CHECK(contains(checked.out, "mether"));
    const ScratchFile right("voltfall.toml",
                            "format = 1\ncolumns = 90\ntools = [\"meter 0.5%+2digits\", \"lamp 21W\"]\n");
    CHECK(command_line({"check", right.path()}).status == 0);
    // A file that stands where settings are looked for is held to be one, also where no key of it reads.
    const ScratchFile own("voltfall.toml", "format = 1\ncolums = 90\n");
    const std::string folder = std::filesystem::path(own.path()).parent_path().string();
    const ProcessResult looked =
        run_process({"env", "XDG_CONFIG_HOME=" + folder, VOLTFALL_BINARY, "check", own.path()});
    INFO(looked.out << looked.err);
    CHECK(looked.status == 3);
    CHECK(contains(looked.out + looked.err, "'colums' is no key of a"));
    CHECK_FALSE(contains(looked.out + looked.err, "circuit"));
    const ScratchFile bare("voltfall.toml", "format = 1\n");
    const std::string home = std::filesystem::path(bare.path()).parent_path().string();
    CHECK(run_process({"env", "XDG_CONFIG_HOME=" + home, VOLTFALL_BINARY, "check", bare.path()}).status == 0);
    const Said used = with_settings(text, {"check", scenario("cab-blower.toml")});
    CHECK(used.status == 0);
    CHECK(contains(used.err, "colums"));
}

TEST_CASE("the manual tells every command with its options, and every kind of part") {
    std::map<std::string, std::string> pages;
    for (const ManualPage& page : manual_pages()) pages[page.file()] = page.text;
    REQUIRE(pages.size() == 4);
    std::string program = pages["voltfall.1"];
    program.erase(std::remove(program.begin(), program.end(), '\\'), program.end());
    for (const Command* command : commands()) {
        CHECK(contains(program, ".SS " + std::string(command->word) + " "));
        for (const std::string& line :
             lines_of(command_line({std::string(command->word), "--help"}, page_of(200)).out)) {
            const std::size_t at = line.find("  --");
            if (at != 0) continue;
            CHECK(contains(program, line.substr(2, line.find("  ", 3) - 2)));
        }
    }
    std::string circuit = pages["voltfall-circuit.5"];
    circuit.erase(std::remove(circuit.begin(), circuit.end(), '\\'), circuit.end());
    for (const Kind& kind : kinds()) CHECK(contains(circuit, std::string(kind.example)));
    // No line may begin with a request that was typed as text.
    for (const auto& [name, text] : pages)
        for (const std::string& line : lines_of(text))
            if (line.starts_with('.'))
                CHECK((line.starts_with(".TH ") || line.starts_with(".SH ") || line.starts_with(".SS ") ||
                       line == ".PP" || line == ".TP" || line.starts_with(".B ") || line == ".nf" || line == ".fi" ||
                       line.starts_with(".RS") || line == ".RE"));
}

TEST_CASE("-V is the version") {
    CHECK(command_line({"-V"}).out == command_line({"--version"}).out);
    CHECK(contains(command_line({"--help"}).out, "-V, --version"));
}

TEST_CASE("without root and without sudo the exact command is printed") {
    // A folder of programs without sudo; nobody's user number; a package that is not there.
    const ScratchFile script("install");
    std::ifstream in(std::string(PROJECT_DIR) + "/.ci/install");
    std::string text{std::istreambuf_iterator<char>(in), {}};
    const std::size_t at = text.find("packages=(");
    REQUIRE(at != std::string::npos);
    text.insert(at + 10, "no-such-package-of-debian ");
    std::ofstream(script.path()) << text;
    const std::string folder = std::filesystem::path(script.path()).parent_path().string();
    std::filesystem::permissions(folder, std::filesystem::perms::all);
    const ProcessResult said =
        run_process({"bash", "-c",
                     "mkdir " + folder + "/bin; for p in bash id dpkg-query; do ln -s $(command -v $p) " + folder +
                         "/bin/; done; " + (geteuid() == 0 ? "setpriv --reuid=65534 --clear-groups " : "") +
                         "env PATH=" + folder + "/bin bash " + script.path()});
    INFO(said.out << said.err);
    CHECK(said.status == 1);
    CHECK(contains(said.err,
                   "apt-get update && apt-get install --yes --no-install-recommends no-such-package-of-debian"));
}
