// Start-up files and variables of the simulator that a user, a folder or the environment may have: none has any effect.
#include <sched.h>
#include <sys/mount.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <random>

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/tools/process.hpp"

using namespace voltfall;
namespace fs = std::filesystem;

namespace {

/// A start-up file that would run a command of the shell and loosen what the simulator solves to.
std::string poison(const fs::path& mark) {
    return "* poisoned\nshell touch " + mark.string() +
           "\nset reltol=0.1\noption reltol=0.1 abstol=1 vntol=1\nset ngbehavior=ps\n";
}

class PoisonedHome {
public:
    PoisonedHome() : file_("mark") {
        for (const char* name : {"home", "here", "scripts", "lib/scripts", "lib/ngspice", "tmp"})
            fs::create_directories(folder() / name);
        for (const char* name :
             {"home/.spiceinit", "home/spice.rc", "here/.spiceinit", "here/spice.rc", "here/spinit", "scripts/spinit",
              "scripts/.spiceinit", "lib/scripts/spinit", "lib/spinit", "tmp/.spiceinit", "tmp/spinit"})
            std::ofstream(folder() / name) << poison(mark());
    }
    fs::path folder() const { return fs::path(file_.path()).parent_path(); }
    fs::path mark() const { return folder() / "mark"; }

    /// The program in the poisoned folder with every variable that the simulator knows pointing at poison.
    ProcessResult run(const std::string& words) const {
        const std::string at = folder().string();
        std::string script =
            "cd " + at + "/here; export HOME=" + at + "/home USERPROFILE=" + at + "/home SPICE_SCRIPTS=" + at +
            "/scripts SPICE_LIB_DIR=" + at + "/lib SPICE_EXEC_DIR=" + at + "/lib SPICE_PATH=" + at +
            "/lib/ngspice SPICE_HELP_DIR=" + at + "/lib SPICE_NEWS=" + at + "/here/spinit NGSPICE_INPUT_DIR=" + at +
            "/here SPICE_EDITOR='touch " + mark().string() + "' SPICE_ASCIIRAWFILE=1 SPICE_NO_DATASEG_CHECK=1 " +
            "NGSPICE_MEAS_PRECISION=2 TMPDIR=" + at + "/tmp; ";
        return run_process({"bash", "-c", script + "'" + std::string(VOLTFALL_BINARY) + "' " + words});
    }

private:
    ScratchFile file_;
};

std::size_t folders_in(const fs::path& folder) {
    std::size_t found = 0;
    for (const auto& entry : fs::directory_iterator(folder)) found += entry.is_directory() ? 1 : 0;
    return found;
}

}  // namespace

TEST_CASE("no start-up file and no variable of the simulator changes an answer or runs a command") {
    const PoisonedHome home;
    for (const std::string& words :
         {"whatif " + scenario("cab-blower.toml") + " --solver ngspice", "match " + scenario("weak-air.job.toml"),
          "match --solver ngspice " + scenario("weak-air.job.toml"), "whatif --start " + scenario("cab-blower.toml")}) {
        const ProcessResult clean = run_process({"bash", "-c", "'" + std::string(VOLTFALL_BINARY) + "' " + words});
        const ProcessResult said = home.run(words);
        INFO(words << "\n" << said.err);
        CHECK(clean.status == 0);
        CHECK(said.status == clean.status);
        CHECK(said.out == clean.out);
        CHECK_FALSE(fs::exists(home.mark()));
    }
    // The poison works where nothing guards against it.
    const std::string at = home.folder().string();
    run_process({"bash", "-c", "cd " + at + "/here; echo quit | ngspice -p > /dev/null 2>&1"});
    CHECK(fs::exists(home.mark()));
}

TEST_CASE("the user's own start-up file is not run from the home that the system knows") {
    // Home as the system knows it counts, not the variable: it is changed in a view of the file system of its own.
    const PoisonedHome home;
    const std::string at = home.folder().string();
    const std::string script =
        "mount --bind " + at + "/home \"$(getent passwd $(id -u) | cut -d: -f6)\" || exit 77; cd /; '" +
        std::string(VOLTFALL_BINARY) + "' whatif '" + scenario("cab-blower.toml") + "' --solver ngspice";
    const ProcessResult said = run_process({"unshare", "-m", "bash", "-c", script});
    if (said.status == 77 || said.status == 1) {
        WARN("no view of the file system of its own may be made here");
        return;
    }
    INFO(said.err);
    CHECK(said.status == 0);
    CHECK_FALSE(fs::exists(home.mark()));
}

TEST_CASE("where its own start-up files cannot be written the simulator is not started") {
    const PoisonedHome home;
    const std::string at = home.folder().string();
    for (const std::string room : {"nr_inodes=2", "nr_inodes=3", "ro"}) {
        // A temporary folder that holds no file, one folder, or a folder and one file.
        const std::string script = "mount -t tmpfs -o size=1m," + room + " none " + at + "/tmp || exit 77; cd " + at +
                                   "/here; TMPDIR=" + at + "/tmp '" + std::string(VOLTFALL_BINARY) + "' whatif '" +
                                   scenario("cab-blower.toml") + "' --solver ngspice; s=$?; find " + at +
                                   "/tmp -mindepth 1 | wc -l >&2; exit $s";
        const ProcessResult said = run_process({"unshare", "-m", "bash", "-c", script});
        if (said.status == 77 || said.status == 1) {
            WARN("no view of the file system of its own may be made here");
            return;
        }
        INFO(room << "\n" << said.out << said.err);
        CHECK(said.status == 4);
        CHECK(contains(said.err, "the circuit simulator is not started"));
        CHECK(said.err.ends_with("\n0\n"));
        CHECK_FALSE(fs::exists(home.mark()));
    }
}

TEST_CASE("a kill at any moment of the start leaves no folder") {
    const PoisonedHome home;
    const fs::path tmp = home.folder() / "tmp";
    std::mt19937 random(8);
    const auto handled = signal(SIGINT, SIG_DFL);  // the children's from their first moment on
    for (int number = 0; number < 60; ++number) {
        const pid_t child = fork();
        REQUIRE(child >= 0);
        if (child == 0) {
            setenv("TMPDIR", tmp.c_str(), 1);
            (void)!freopen("/dev/null", "w", stdout);
            execl(VOLTFALL_BINARY, VOLTFALL_BINARY, "--version", static_cast<char*>(nullptr));
            _exit(1);
        }
        usleep(static_cast<useconds_t>(random() % 25000));
        kill(child, number % 3 == 0 ? SIGINT : SIGKILL);
        waitpid(child, nullptr, 0);
    }
    signal(SIGINT, handled);
    for (int waited = 0; waited < 50 && folders_in(tmp) > 0; ++waited) usleep(20000);
    CHECK(folders_in(tmp) == 0);
}

TEST_CASE("an older simulator, one without a version and one that is no simulator are refused by name") {
    for (const auto& [banner, told] :
         {std::pair<std::string, std::string>{"ngspice-27", "is ngspice-27; ngspice-39 or newer"},
          {"nothing", "is of an unknown version"}}) {
        const ProcessResult said =
            run_process({"env", "LD_LIBRARY_PATH=" + fs::path(STANDIN_LIBRARY).parent_path().string(),
                         "VOLTFALL_STANDIN_BANNER=" + banner, VOLTFALL_BINARY, "whatif", scenario("cab-blower.toml")});
        INFO(said.err);
        CHECK(said.status == 4);
        CHECK(contains(said.err, told));
        CHECK(said.out.empty());
    }
}
