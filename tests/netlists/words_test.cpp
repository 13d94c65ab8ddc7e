// Words: how a phrase is cut, and where each piece stands.
#include <random>

#include "netlists/text/characters.hpp"
#include "netlists/text/problem.hpp"
#include "netlists/text/words.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

struct Cut {
    std::vector<Word> words;
    Problems problems;
    std::string texts;  ///< the words joined by `|`
};

Cut cut(const std::string& text) {
    Cut result;
    result.words = cut_words(TypedText::argument("--read", text), result.problems);
    for (const Word& word : result.words) result.texts += (result.texts.empty() ? "" : "|") + word.text;
    return result;
}

/// The words of a phrase that has nothing wrong in it.
std::string clean(const std::string& text) {
    const Cut result = cut(text);
    INFO(text);
    CHECK(result.problems.empty());
    return result.texts;
}

std::string characters_between(const std::string& text, int from, int length) {
    const auto characters = characters_of(text);
    std::string part;
    for (int i = from; i < from + length; ++i) part += characters.at(static_cast<std::size_t>(i)).bytes;
    return part;
}

}  // namespace

TEST_CASE("blanks and commas cut words, and a comma is remembered") {
    CHECK(clean("lo,ml,mh  blower slow") == "lo|ml|mh|blower|slow");
    CHECK(clean("1,2,3 blower slow") == "1|2|3|blower|slow");
    CHECK(clean("switch C: off lo=1 hi=4+5") == "switch|C:|off|lo=1|hi=4+5");
    CHECK(clean("motor 20A @13.5V, 3500rpm") == "motor|20A|@13.5V|3500rpm");
    CHECK(clean("F7.2 > C101.4\t6mm2 RD ~1.4m") == "F7.2|>|C101.4|6mm2|RD|~1.4m");
    CHECK(clean(",, lo ,,ml,") == "lo|ml");
    CHECK(clean("") == "");
    const Cut words = cut("fuse 40A maxi, feed 30 ,15");
    CHECK(words.words[2].after_comma == false);
    CHECK(words.words[3].after_comma == true);
    CHECK(words.words[4].after_comma == false);
    CHECK(words.words[5].after_comma == true);
}

TEST_CASE("a decimal comma is one where a unit follows") {
    CHECK(clean("2,5mm2 RD") == "2,5mm2|RD");
    CHECK(clean("clamp 542 18,5 A") == "clamp|542|18,5A");
    CHECK(clean("motor 20A @13,5V,3500rpm") == "motor|20A|@13.5V|3500rpm");
    CHECK(clean("3,2-4,1A @13,5V") == "3.2-4.1A|@13.5V");
    CHECK(clean("0,06-0,15 V") == "0.06-0.15V");
    CHECK(clean("M1.1 to B1- >0,5V") == "M1.1|to|B1-|>0.5V");
    CHECK(clean("head C: lo=2,1V hi=6,9V") == "head|C:|lo=2.1V|hi=6.9V");
    CHECK(clean("S1=1,2 A") == "S1=1|2A");
    CHECK(clean("-0,5V") == "-0,5V");
    CHECK(clean("1,2,3V") == "1|2|3V");
    CHECK(clean("1,2 blower slow") == "1|2|blower|slow");
    CHECK(clean("12,6V?") == "12.6V?");
    CHECK(clean("C101.4,5V") == "C101.4|5V");
    const Cut size = cut("2,5mm2");
    REQUIRE(size.words[0].measure);
    CHECK(size.words[0].measure->value == 2.5);
}

TEST_CASE("a number that may be thousands is not guessed") {
    const Cut rpm = cut("motor 20A, 3,500rpm");
    REQUIRE(rpm.problems.list().size() == 1);
    CHECK(rpm.problems.list()[0].message == "'3,500rpm' may mean '3500rpm' or '3.500rpm'");
    CHECK(rpm.problems.list()[0].suggestion == "type 3500rpm or 3.500rpm");
    CHECK(rpm.problems.list()[0].place.column == 12);
    CHECK(rpm.problems.list()[0].place.length == 8);
    CHECK(clean("0,125V") == "0,125V");
}

TEST_CASE("a number and its unit may stand apart") {
    CHECK(clean("0.3 ohm") == "0.3ohm");
    CHECK(clean("fuse 40 A maxi") == "fuse|40A|maxi");
    CHECK(clean("wire ~1.4 m @ 13.5 V") == "wire|~1.4m|@|13.5V");
    CHECK(clean("6   mm2") == "6mm2");
    CHECK(clean("18-21 A @13.5 V") == "18-21A|@13.5V");
    CHECK(clean("12.6 V?") == "12.6V?");
    CHECK(clean("8 min: C303 C304") == "8min:|C303|C304");
    CHECK(clean("motor 3500 1/min") == "motor|3500rpm");
    CHECK(clean("connector bulkhead, 8 way") == "connector|bulkhead|8way");
    CHECK(clean("M1.1 -0.5 V") == "M1.1|-0.5V");
    const Cut ohms = cut("R1 0.3 ohm open");
    REQUIRE(ohms.words[1].measure);
    CHECK(ohms.words[1].measure->unit == Unit::ohm);
    CHECK(ohms.words[1].offset == 3);
    CHECK(ohms.words[1].length == 7);
}

TEST_CASE("names beside numbers are not taken for units") {
    CHECK(clean("lamp 60 in F7") == "lamp|60|in|F7");
    CHECK(clean("RD 12 in") == "RD|12in");
    CHECK(clean("RD 12 in 3 ft") == "RD|12in|3ft");
    CHECK(clean("541 c") == "541|c");
    CHECK(clean("1 h") == "1|h");
    CHECK(clean("4   A") == "4|A");
    CHECK(clean("feed 30, A") == "feed|30|A");
    CHECK(clean("feed 30,A") == "feed|30|A");
    CHECK(clean("30 \"A\"") == "30|A");
    CHECK(clean("K3.87 V") == "K3.87|V");
    CHECK(clean("pack 1 1.2ohm 2 0.7ohm 3, limiter 121C at 4") == "pack|1|1.2ohm|2|0.7ohm|3|limiter|121C|at|4");
    CHECK(clean("R1 coil 1-2 drift 1.6") == "R1|coil|1-2|drift|1.6");
}

TEST_CASE("quoted text is one word and a note is left out") {
    const Cut words = cut("hot, \"on bumps, # only\" blower slow # I doubt it");
    CHECK(words.texts == "hot|on bumps, # only|blower|slow");
    CHECK(words.words[1].quoted);
    CHECK(words.words[1].offset == 5);
    CHECK(words.words[1].length == 18);
    CHECK(words.words[1].after_comma);
    CHECK_FALSE(words.words[1].measure);
    CHECK(words.problems.empty());
    const Cut number = cut("\"12V\"");
    CHECK_FALSE(number.words[0].measure);
    CHECK(cut("\"\"").words.size() == 1);
}

TEST_CASE("an open quote is a problem with its place") {
    const Cut words = cut("hi \"any words");
    CHECK(words.texts == "hi|any words");
    REQUIRE(words.problems.list().size() == 1);
    CHECK(words.problems.list()[0].place.column == 4);
    CHECK(words.problems.list()[0].message == "the quoted text 'any words' has no closing quote");
}

TEST_CASE("look-alikes of phone keyboards are named, and read as the plain character") {
    const Cut dash = cut("M1.1 to B1– 12.6V");
    CHECK(dash.texts == "M1.1|to|B1-|12.6V");
    REQUIRE(dash.problems.list().size() == 1);
    const Problem& problem = dash.problems.list()[0];
    CHECK(problem.severity == Severity::error);
    CHECK(problem.message == "the character U+2013 (en dash) is not read here");
    CHECK(problem.suggestion == "type a plain - instead");
    CHECK(problem.place.column == 11);
    CHECK(problem.place.length == 1);

    const Cut quotes = cut("“on bumps” blower slow");
    CHECK(quotes.texts == "on bumps|blower|slow");
    CHECK(quotes.words[0].quoted);
    CHECK(quotes.problems.list().size() == 2);

    const Cut blank = cut("0.3\u00A0ohm");
    CHECK(blank.texts == "0.3ohm");
    REQUIRE(blank.problems.list().size() == 1);
    CHECK(blank.problems.list()[0].suggestion == "type a plain blank instead");

    CHECK(cut("13.5\u200BV").texts == "13.5V");
    CHECK(cut("hi \"it’s – so\"").problems.empty());
    CHECK(cut("hi blower # it’s").problems.empty());
}

TEST_CASE("bytes that are no text are problems, never passed on") {
    const Cut bytes = cut("M1\xFF.1 \xC3");
    CHECK(bytes.texts == "M1?.1|?");
    REQUIRE(bytes.problems.list().size() == 2);
    CHECK(bytes.problems.list()[0].message == "the byte 0xFF is not UTF-8 text");
    CHECK(bytes.problems.list()[1].place.column == 7);
    CHECK(cut(std::string("a\0b", 3)).problems.has_errors());
    CHECK(character_count("\xC0\x80") == 2);      // an overlong form
    CHECK(character_count("\xED\xA0\x80") == 3);  // a surrogate
    CHECK(character_count("12µΩ\U0001F527") == 5);
}

TEST_CASE("every word stands where its offset says, whatever stands before it") {
    const std::vector<std::string> pieces{"M1.1", "to",    "B1-",          "12.6V",  "8mΩ",    "121°C",
                                          "20µs", "größe", "\"a – b, c\"", "@13.5V", "2,5mm²", "🔧",
                                          "F7",   "1,2,3", "0.3 ohm",      "~1.4 m", "lo=1"};
    const std::vector<std::string> gaps{" ", "  ", ", ", "\t", " ,  "};
    std::mt19937 random(7);
    for (int round = 0; round < 300; ++round) {
        std::string text;
        for (int i = 0; i < 8; ++i) {
            text += pieces[random() % pieces.size()] + gaps[random() % gaps.size()];
        }
        INFO(text);
        const Cut words = cut(text);
        CHECK(words.problems.empty());
        int end = 0;
        for (const Word& word : words.words) {
            CHECK(word.offset >= end);
            end = word.offset + word.length;
            std::string typed = characters_between(text, word.offset, word.length);
            if (word.quoted) {
                CHECK(typed == "\"" + word.text + "\"");
            } else if (typed.find(' ') == std::string::npos) {
                CHECK(typed == word.text);
            } else {
                typed.erase(typed.find(' '), 1);
                CHECK(typed == word.text);
                CHECK((typed == "0.3ohm" || typed == "~1.4m"));
            }
        }
    }
}

TEST_CASE("any bytes can be cut, and every place stays inside the phrase") {
    std::mt19937 random(99);
    const std::string alphabet = "0123456789.,-+eE \"#VAm%@~<>=/:?\xC2\xB0\xE2\x80\x93\xFF\t";
    for (int round = 0; round < 3000; ++round) {
        std::string text;
        const std::size_t length = random() % 24;
        for (std::size_t i = 0; i < length; ++i) text += alphabet[random() % alphabet.size()];
        const Cut words = cut(text);
        const int size = character_count(text);
        for (const Word& word : words.words) {
            CHECK(word.offset >= 0);
            CHECK(word.length > 0);
            CHECK(word.offset + word.length <= size);
            if (word.measure) CHECK(std::isfinite(word.measure->value));
        }
        for (const Problem& problem : words.problems.list()) {
            CHECK(problem.place.column >= 1);
            CHECK(problem.place.column <= size);
        }
    }
}

TEST_CASE("a reader of words takes them in turn and knows their places") {
    Problems problems;
    TypedText phrase{"K3 Coil 90ohm, diode", {"x.toml", 12, 9, 20, "K3   = \"K3 Coil 90ohm, diode\""}};
    WordReader words(phrase, problems);
    CHECK(words.peek()->text == "K3");
    CHECK(words.peek(2)->text == "90ohm");
    CHECK(words.peek(4) == nullptr);
    CHECK(words.take().text == "K3");
    CHECK_FALSE(words.take_if("90ohm"));
    CHECK(words.take_if("coil"));
    CHECK_FALSE(words.take_measure(Unit::volt));
    CHECK(words.place().column == 17);
    CHECK(words.place().length == 5);
    CHECK(words.place().line == 12);
    const std::size_t before = words.position();
    const auto ohms = words.take_measure(Unit::ohm);
    REQUIRE(ohms);
    CHECK(ohms->value == 90);
    CHECK(words.rest().size() == 1);
    words.rewind(before);
    CHECK(words.rest().size() == 2);
    words.take();
    words.take();
    CHECK(words.at_end());
    CHECK(words.peek() == nullptr);
    CHECK(words.place().column == 29);
    CHECK_THROWS_AS(words.take(), std::logic_error);
}
