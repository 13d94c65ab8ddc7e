// `serve FOLDER`: its jobs on one page, each behind its own address; lessons beside them.
#include <filesystem>
#include <fstream>

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/served.hpp"

using namespace voltfall;
using voltfall::testing::Served;

namespace fs = std::filesystem;

namespace {

/// A folder with a circuit, a job that is open, one that is mended, one that cannot be read, and a file of settings.
class Folder {
public:
    Folder() : base_("none.toml", "") {
        fs::create_directory(path());
        fs::copy_file(scenario("cab-blower.toml"), path() / "cab-blower.toml");
        write("open.job.toml", top + "concern = \"weak <air>\"\n\n[readings]\n1 = \"hi  blower slow\"\n");
        write("mended.job.toml",
              top +
                  "concern = \"dead\"\n\n[readings]\n1 = \"hi  blower dead\"\n\n[repaired]\nC101.4 = "
                  "\"new terminal\"\n");
        write("broken.job.toml", top + "[readings]\n1 = \"hi  blowr slow\"\n");
        write("settings.toml", "columns = 60\n");
    }
    fs::path path() const { return fs::path(base_.path()).parent_path() / "shop"; }
    void write(const std::string& name, const std::string& text) const { std::ofstream(path() / name) << text; }
    std::string text(const std::string& name) const {
        std::ifstream in(path() / name);
        return {std::istreambuf_iterator<char>(in), {}};
    }

private:
    const std::string top = "format  = 1\ncircuit = \"cab-blower.toml\"\n";
    ScratchFile base_;
};

}  // namespace

TEST_CASE("the jobs of a folder stand on one page, and each is worked behind its own address") {
    const Folder folder;
    Served served(folder.path().string());
    const std::string cookie = served.come_in(served.key());
    REQUIRE_FALSE(cookie.empty());
    const std::string list = served.get("/", cookie);
    INFO(list);
    CHECK(contains(list, "weak &lt;air&gt;"));
    CHECK(contains(list, "1 reading"));
    CHECK(contains(list, "mended: C101.4"));
    CHECK(contains(list, "It cannot be read: "));
    CHECK_FALSE(contains(list, "settings.toml"));
    CHECK_FALSE(contains(list, "cab-blower.toml"));
    const std::string base = "/job/open%2Ejob%2Etoml";
    CHECK(contains(list, "href=\"" + base + "/\""));
    const std::string page = served.get(base + "/", cookie);
    CHECK(contains(page, "action=\"" + base + "/answer\""));
    CHECK(contains(page, "href=\"/jobs\""));
    const std::string before = folder.text("mended.job.toml");
    const std::string kept = served.post(base + "/answer", "do=keep&reading=hi++blower+dead", cookie);
    CHECK(contains(kept, "303"));
    CHECK(contains(kept, "Location: " + base + "/"));
    CHECK(contains(folder.text("open.job.toml"), "2 = \"hi  blower dead\""));
    CHECK(folder.text("mended.job.toml") == before);
    CHECK(contains(served.get("/jobs", cookie), "2 readings"));
    CHECK(served.end() == 0);
}

TEST_CASE("nothing but the jobs of the folder is reached, and by nobody without the key") {
    const Folder folder;
    Served served(folder.path().string());
    CHECK(contains(served.get("/job/open%2Ejob%2Etoml/"), "403"));
    const std::string cookie = served.come_in(served.key());
    for (const char* path : {"/job/cab-blower.toml/", "/job/settings.toml/", "/job/..%2Fnone.toml/",
                             "/job/../none.toml/", "/job//", "/job/%2Fetc%2Fpasswd/", "/elsewhere"}) {
        INFO(path);
        CHECK(contains(served.get(path, cookie), "404"));
    }
    CHECK(contains(served.get("/job/broken.job.toml/", cookie), "500"));
    CHECK(contains(served.get("/job/open.job.toml", cookie), "303"));
}

TEST_CASE("a folder with lessons is a class's, with its jobs beside them; an empty one is refused") {
    const Folder folder;
    fs::copy_file(fs::path(PROJECT_DIR) / "scenarios/lessons/dark-lamp.toml", folder.path() / "dark-lamp.toml");
    const Served served(folder.path().string());
    const std::string teacher = served.come_in(Served::key_of(served.teacher()));
    CHECK(contains(served.get("/", teacher), "href=\"/jobs\""));
    const std::string jobs = served.get("/jobs", teacher);
    CHECK(contains(jobs, "weak &lt;air&gt;"));
    CHECK(contains(jobs, "href=\"/\""));
    const Folder other;
    fs::remove_all(other.path());
    fs::create_directory(other.path());
    const Said said = command_line({"serve", other.path().string()});
    CHECK(said.status == 3);
    CHECK(contains(said.err, "no job and no lesson"));
}
