#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

std::string condition_text(const std::string& condition) {
    return is_condition_word(condition) ? condition : "\"" + condition + "\"";
}

}  // namespace

std::string write_fault(const Circuit&, const Fault& fault) {
    const FaultMode& mode = *fault.mode;
    std::string text = mode.phrase();
    const std::string place = mode.mode.substr(mode.words_without_at().size());
    text.resize(text.size() - place.size());
    if (mode.size) text += " " + write_measure(fault.size, mode.size->unit);
    text += place;
    if (mode.along_wire && fault.where != default_value("place"))
        text += " at " + write_measure(fault.where, Unit::percent);
    if (fault.condition.empty()) return text;
    if (mode.size && fault.size_in_condition) {
        return text + ", " + condition_text(fault.condition) + " " +
               write_measure(*fault.size_in_condition, mode.size->unit);
    }
    return text + " when " + condition_text(fault.condition);
}

}  // namespace voltfall
