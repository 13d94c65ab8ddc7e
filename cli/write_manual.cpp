// Writes the manual pages into a folder.
#include <cstdio>
#include <filesystem>
#include <fstream>

#include "cli/commands/manual.hpp"

int main(int argc, char** argv) {
    if (argc != 2) {
        std::fputs("usage: write_manual FOLDER\n", stderr);
        return 2;
    }
    for (const voltfall::ManualPage& page : voltfall::manual_pages()) {
        std::ofstream file(std::filesystem::path(argv[1]) / page.file(), std::ios::binary);
        file << page.text;
        if (!file.flush()) {
            std::fprintf(stderr, "write_manual: cannot write %s\n", page.file().c_str());
            return 4;
        }
    }
    return 0;
}
