#include "netlists/files/typed_file.hpp"

#include <istream>

#include "netlists/files/file_top.hpp"
#include "netlists/files/whole_file.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

TypedFile read_typed_file(const std::string& path, std::istream& standard_input) {
    TypedFile file;
    file.toml.path = path;
    if (path == standard_input_name) {
        file.text = rest_of_stream(standard_input, largest_file_bytes);
    } else if (auto bytes = read_whole_file(path)) {
        file.text = *std::move(bytes);
    } else {
        file.problems.error(ProblemCode::unreadable_file, {path, 0, 0, 1, {}}, bytes.error().message,
                            bytes.error().suggestion);
        return file;
    }
    file.toml = read_toml_text(file.text, path, file.problems);
    if (holds_lesson(file.toml))
        file.kind = FileKind::lesson;
    else if (holds_circuit(file.toml))
        file.kind = FileKind::circuit;
    return file;
}

}  // namespace voltfall
