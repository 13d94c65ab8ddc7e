#include "tests/files/bad_file.hpp"

#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdexcept>

namespace voltfall::testing {

namespace fs = std::filesystem;

namespace {

std::string_view name_of(SoundFile file) {
    switch (file) {
        case SoundFile::circuit:
            return "bench.toml";
        case SoundFile::job:
            return "bench.job.toml";
        case SoundFile::lesson:
            return "bench.lesson.toml";
        case SoundFile::wire_list:
            return "bench.csv";
    }
    return {};
}

std::size_t place_of(const std::string& text, std::string_view piece) {
    const auto at = text.find(piece);
    if (at == std::string::npos) throw std::logic_error("no sound file holds '" + std::string(piece) + "'");
    return at;
}

}  // namespace

std::string sound_text(SoundFile file) {
    std::ifstream stream(fs::path(PROJECT_DIR) / "tests/files" / name_of(file), std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

std::string changed_text(SoundFile file, std::string_view piece, std::string_view typed) {
    std::string text = sound_text(file);
    return text.replace(place_of(text, piece), piece.size(), typed);
}

int line_of(SoundFile file, std::string_view piece) {
    const std::string text = sound_text(file);
    const auto end = text.begin() + static_cast<std::ptrdiff_t>(place_of(text, piece));
    return static_cast<int>(std::count(text.begin(), end, '\n')) + 1;
}

Bench::Bench() {
    static int count = 0;
    const fs::path folder =
        fs::temp_directory_path() / ("voltfall-bench-" + std::to_string(getpid()) + "-" + std::to_string(++count));
    fs::create_directories(folder);
    folder_ = folder.string();
    for (const SoundFile file : {SoundFile::circuit, SoundFile::job, SoundFile::lesson, SoundFile::wire_list})
        write(name_of(file), sound_text(file));
}

Bench::~Bench() {
    std::error_code ignored;
    fs::remove_all(folder_, ignored);
}

std::string Bench::write(SoundFile file, const std::string& text) const {
    const std::string_view name = name_of(file);
    return write("typed" + std::string(name.substr(name.find('.'))), text);
}

std::string Bench::write(std::string_view name, const std::string& text) const {
    const fs::path path = fs::path(folder_) / name;
    std::ofstream(path, std::ios::binary) << text;
    return path.string();
}

}  // namespace voltfall::testing
