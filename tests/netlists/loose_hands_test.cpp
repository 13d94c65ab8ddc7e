// What people write who have not read the grammar: each phrase is taken as what it means, written as the program writes
// it. Collected from how confirmed cases are told.
#include "netlists/phrases/reading_phrase.hpp"
#include "tests/support/phrase_circuits.hpp"
#include "tests/support/workshop.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

const Circuit& workshop() {
    static const std::shared_ptr<const Circuit> circuit = circuit_of(workshop_text);
    return *circuit;
}

struct Row {
    const char* typed;
    const char* meant;  ///< as the program writes it
};

const std::vector<Row> rows{
#include "tests/netlists/loose_hands.inc"
};

std::string read_back(const std::string& typed, std::string& trouble) {
    Problems problems;
    const auto reading = read_reading_phrase(TypedText::argument("reading", typed), "1", workshop(), problems);
    trouble = all_problems(problems);
    return reading && !problems.has_errors() ? write_reading(workshop(), *reading) : std::string("?");
}

}  // namespace

TEST_CASE("what people write is taken as what it means") {
    CHECK(rows.size() >= 150);
    for (const Row& row : rows) {
        std::string trouble;
        const std::string found = read_back(row.typed, trouble);
        INFO(row.typed << "\n" << trouble);
        CHECK(found == row.meant);
    }
}

TEST_CASE("what is not known gets a suggestion of the right kind") {
    const auto advice = [](const std::string& typed) {
        std::string trouble;
        CHECK(read_back(typed, trouble) == "?");
        return trouble;
    };
    const auto has = [](const std::string& text, const std::string& piece) {
        INFO(text);
        CHECK(text.find(piece) != std::string::npos);
    };
    has(advice("S1=hi  SP2 to B1- 3V"), "SP2 = \"splice\"");
    has(advice("S1=hi  G205 to B1- 3V"), "G205 = \"ground\"");
    CHECK(advice("speedo  M1.1 to B1- 3V").find("feed") == std::string::npos);
    has(advice("S1=hi  across K2 0.1V"), "write two of its points");
    has(advice("S1=hi  M1 dim-ish"), "dead, slow, normal");
    has(advice("engine off  M1.1 to B1- 12V"), "key on or key off");
    has(advice("unplug C303  R1.1 to R1.4 2.25"), "has no unit");
}
