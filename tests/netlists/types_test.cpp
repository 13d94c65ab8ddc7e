// One name, one type. Two types of one name in a namespace are undefined behaviour that no compiler need report: the
// linker keeps one destructor for both.
//
// The rule: a type at namespace level is defined once over the headers and sources of all three libraries. Types in the
// anonymous namespace of a .cpp file are that file's own and may repeat each other, but not the name of a type that any
// header defines: the header may be included there one day, or be read together with it. Of the platform's two halves
// one is built at a time: each is held against all that is built with it.
#include <string>
#include <vector>

#include "tests/support/catch.hpp"
#include "tests/support/source_tree.hpp"

using namespace voltfall::testing;

namespace {

SourceFile made(const std::string& path, const std::string& text) {
    return {path, text, {}, 0};
}

}  // namespace

TEST_CASE("no type is defined twice") {
    for (const char* other_half : {"_windows.", "_posix."}) {
        const std::vector<SourceFile> files = without_half(sources_of({"netlists", "engine", "cli"}), other_half);
        std::size_t types = 0;
        for (const SourceFile& file : files) types += types_of(file).size();
        REQUIRE(types > 400);  // the libraries were found and read
        for (const std::string& twice : defined_twice(files)) {
            INFO(twice);
            CHECK(false);
        }
    }
}

TEST_CASE("two headers with one name are found, whatever stands between") {
    const SourceFile one =
        made("a/one.hpp", "namespace voltfall {\n/// struct Other {\nstruct Symptom final : Base<int> {};\n}");
    const SourceFile two = made("b/two.hpp", "namespace voltfall { enum class Symptom : int { a, b }; }");
    const SourceFile alias = made("c/three.hpp", "namespace voltfall { template <typename T> using Symptom = T; }");
    CHECK(defined_twice({one, two}) == std::vector<std::string>{"voltfall::Symptom: a/one.hpp, b/two.hpp"});
    CHECK(defined_twice({one, two, alias}).size() == 2);
    CHECK(defined_twice({one}).empty());
}

TEST_CASE("types of one file may repeat each other, not a header's") {
    const std::string text = "namespace voltfall {\nnamespace {\nclass Reader {};\n}\n}";
    const SourceFile first = made("a/first.cpp", text);
    const SourceFile second = made("b/second.cpp", text);
    const SourceFile header = made("c/reader.hpp", "namespace voltfall {\nclass Reader {\n};\n}");
    CHECK(defined_twice({first, second}).empty());
    CHECK(defined_twice({first, second, header}).size() == 2);
}

TEST_CASE("declarations, uses, members and other namespaces are no second definition") {
    const SourceFile header =
        made("a/one.hpp",
             "namespace voltfall {\nclass Session;\nstruct Part { enum class Kind { a } kind; };\n"
             "struct Joint { enum class Kind { b } kind; };\nenum class Unit;\n"
             "inline Part made(struct Part* part) { struct Local {}; return *part; }\n}");
    const SourceFile other =
        made("b/two.cpp",
             "namespace voltfall::testing {\nstruct Part {};\n}\nnamespace voltfall {\n"
             "class Session {};\nvoid f() { struct Local {}; const char* text = \"struct Joint {\"; }\n}");
    CHECK(defined_twice({header, other}).empty());
    CHECK(types_of(header).size() == 2);
}
