#include "netlists/parts/fuse_element.hpp"
#include "netlists/parts/usual_changes.hpp"

namespace voltfall {

namespace {
/// Part spread of a fuse's ohms and I2t is about 15 % (reference fuses E6); one sigma a third of it.
constexpr double fuse_sigma = 0.05;
}  // namespace

BranchId lay_opening_element(Layout& layout, std::string_view type, double rating_amps, double ohms,
                             ElementPlain plain) {
    const JointId first = layout.pin("1");
    const JointId second = layout.pin("2");
    const BranchId element = layout.branch({"element", BranchSort::other}, first, second, Resistor{ohms}, fuse_sigma);
    layout.circuit().parts[layout.part_id().index].fuse = FuseAction{element, std::string(type), rating_amps};

    const auto opens = opening(element);
    FaultMode& blown =
        layout.mode({"blown", std::move(plain.blown)}, FaultClass::fuse_itself, {ModeFact::fuse_blown}, opens);
    blown.share = 2;
    blown.looks = "blown burst slumped hairline";
    FaultMode& open = layout.mode({"open", std::move(plain.open)}, FaultClass::fuse_itself, {ModeFact::lost_contact},
                                  opens);  // looks good, is not
    open.looks = "cracked";
    FaultMode& poor = layout.mode({"resistance", std::move(plain.poor)}, FaultClass::joint,
                                  {ModeFact::poor_contact, ModeFact::may_touch}, adding_ohms(element));
    poor.size = resistance_range();
    poor.looks = "melted burnt loose slumped";
    return element;
}

}  // namespace voltfall
