// Fuse in a holder.
#include "netlists/parts/fuse_element.hpp"
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/fuses.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"fuse", "rated amps", Unit::ampere, 0.05, most_fuse_amps},
};

void read(PartReader& reader, Part& part) {
    reader.put_for("standard", "regular");
    reader.required(part, "rated amps", Unit::ampere);
    const std::string type = reader.flag(part, {"mini", "regular", "maxi", "cartridge", "glass"});
    if (type.empty()) part.flags.emplace_back("regular");
    // Blades are of three sizes: beside one of them the word says nothing.
    if (type == "mini" || type == "regular" || type == "maxi") reader.put_for("blade", "");
    reader.feed(part);
}

void lay(const Part& part, Layout& layout) {
    const FuseType type = *fuse_type(part.flags.front());
    const double rating = part.value("rated amps");
    const BranchId element =
        lay_opening_element(layout, part.flags.front(), rating, fuse_ohms(type, rating),
                            {"fuse " + part.name + " blown", "fuse " + part.name + " open, though it looks good",
                             "poor grip of fuse " + part.name + " in its holder"});

    FaultMode& missing = layout.mode({"missing", "no fuse in " + part.name}, FaultClass::fuse_itself,
                                     {ModeFact::fuse_missing}, opening(element));
    missing.share = 0.5;
    missing.looks = "missing";
    const PartId id = layout.part_id();
    FaultMode& wrong =
        layout.mode({"rating", "fuse of the wrong rating in " + part.name}, FaultClass::fuse_itself,
                    {ModeFact::wrong_rating}, [id, element, type](double amps, double) {
                        return std::vector<Change>{FitFuse{id, amps}, SetLaw{element, Resistor{fuse_ohms(type, amps)}}};
                    });
    // From the smallest that a load's start or its minutes would still let live for a while, to twice the rating.
    wrong.size = SizeRange{rating / 4, rating * 2, rating * 1.5, Unit::ampere, true, "ratings made for vehicles"};
    wrong.share = 0.5;
}

}  // namespace

constinit const Kind fuse_kind = passive_kind({
    .word = "fuse",
    .example = "fuse 40A maxi, feed 30",
    .fitting = Fitting::plugs_in,
    .drop = Drop::none,
    .read = read,
    .terminals = two_terminals,
    .terminal_aliases = opening_element_aliases,
    .lay = lay,
    .figures = figures,
});

}  // namespace voltfall
