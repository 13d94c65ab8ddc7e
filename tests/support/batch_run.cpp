#include "tests/support/batch_run.hpp"

#include <array>
#include <charconv>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <memory>
#include <stdexcept>
#include <string_view>

namespace voltfall::test {

namespace {

std::string output_of(const std::string& command) {
    const std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen(command.c_str(), "r"), pclose);
    if (!pipe) throw std::runtime_error("cannot run " + command);
    std::string output;
    std::array<char, 4096> buffer{};
    while (std::fgets(buffer.data(), static_cast<int>(buffer.size()), pipe.get())) output += buffer.data();
    return output;
}

}  // namespace

std::map<std::string, double> batch_run(const std::string& deck_text) {
    std::string name = (std::filesystem::temp_directory_path() / "voltfall-deck-XXXXXX").string();
    const int file = mkstemp(name.data());
    if (file < 0) throw std::runtime_error("cannot make " + name);
    std::ofstream(name) << deck_text;
    const std::string output = output_of("ngspice -b " + name + " 2>&1");
    std::filesystem::remove(name);
    std::map<std::string, double> values;
    std::string_view rest = output;
    while (!rest.empty()) {
        const std::string_view line = rest.substr(0, rest.find('\n'));
        rest.remove_prefix(std::min(rest.size(), line.size() + 1));
        const auto equals = line.find(" = ");
        if (equals == std::string_view::npos) continue;
        double value = 0;
        const char* begin = line.data() + equals + 3;
        if (std::from_chars(begin, line.data() + line.size(), value).ec != std::errc{}) continue;
        values[std::string(line.substr(0, equals))] = value;
    }
    if (values.empty()) throw std::runtime_error("the batch program printed no values:\n" + output);
    return values;
}

}  // namespace voltfall::test
