// Runs command lines in this process and keeps what they said.
#pragma once

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "cli/commands/program.hpp"
#include "cli/views/text_page.hpp"
#include "tests/support/solvers.hpp"

namespace voltfall {

struct Said {
    int status{};
    std::string out;
    std::string err;
};

inline Said command_line(const std::vector<std::string>& args, const Terminal& terminal = {},
                         const std::string& input = {}) {
    std::istringstream in(input);
    std::ostringstream out;
    std::ostringstream err;
    const int status = run(args, in, out, err, terminal, testing::start_ngspice);
    return {status, out.str(), err.str()};
}

inline Terminal page_of(int columns) {
    return {false, false, columns, true};
}

inline std::string scenario(const std::string& name) {
    return std::string(PROJECT_DIR) + "/scenarios/bookmobile/" + name;
}

inline std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);) lines.push_back(line);
    return lines;
}

inline int widest_line(const std::string& text) {
    int widest = 0;
    for (const std::string& line : lines_of(text)) widest = std::max(widest, text_width(line));
    return widest;
}

inline bool contains(const std::string& text, const std::string& piece) {
    return text.find(piece) != std::string::npos;
}

/// A file in a folder of its own that goes away with the test.
class ScratchFile {
public:
    explicit ScratchFile(const std::string& name, const std::string& text = {}) {
        std::string pattern = (std::filesystem::temp_directory_path() / "voltfall-cli-XXXXXX").string();
        folder_ = mkdtemp(pattern.data());
        path_ = folder_ / name;
        if (!text.empty()) std::ofstream(path_, std::ios::binary) << text;
    }
    ~ScratchFile() {
        std::error_code ignored;
        std::filesystem::remove_all(folder_, ignored);
    }
    ScratchFile(const ScratchFile&) = delete;
    ScratchFile& operator=(const ScratchFile&) = delete;

    std::string path() const { return path_.string(); }
    std::string text() const {
        std::ifstream file(path_, std::ios::binary);
        std::ostringstream all;
        all << file.rdbuf();
        return all.str();
    }

private:
    std::filesystem::path folder_;
    std::filesystem::path path_;
};

}  // namespace voltfall
