// A lesson file of any bytes, and what sealing makes of it.
#include "netlists/files/lesson_file.hpp"
#include "tests/fuzz/fuzzed.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace voltfall;
    const std::string text = fuzz::text_of(data, size);
    Problems problems;
    const TomlFile file = read_toml_text(text, PROJECT_DIR "/scenarios/lessons/fuzz.toml", problems);
    const LessonReading reading = read_lesson(file, problems, fuzz::kept_circuit);
    fuzz::check_problems(reading.problems);
    if (!reading.lesson && !reading.problems.has_errors()) std::abort();
    (void)seal_lesson(text);
    return 0;
}
