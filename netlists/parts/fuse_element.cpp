#include "netlists/parts/fuse_element.hpp"

namespace voltfall {

namespace {
/// Part spread of a fuse's ohms and I2t is about 15 % (reference fuses E6); one sigma a third of it.
constexpr double fuse_sigma = 0.05;
}  // namespace

BranchId lay_opening_element(const Part& part, Layout& layout, std::string_view type, double rating_amps, double ohms) {
    const JointId first = layout.pin("1");
    const JointId second = layout.pin("2");
    const BranchId element = layout.branch("element", first, second, Resistor{ohms}, fuse_sigma);
    layout.circuit().parts[layout.part_id().index].fuse = FuseAction{element, std::string(type), rating_amps};

    const auto opens = [element](double, double) { return std::vector<Change>{OpenBranch{element}}; };
    FaultMode& blown = layout.mode("blown", FaultClass::fuse_itself, opens);
    blown.share = 2;
    blown.looks = "blown burst slumped hairline";
    FaultMode& open = layout.mode("open", FaultClass::fuse_itself, opens);  // looks good, is not
    open.looks = "cracked";
    FaultMode& poor = layout.mode("resistance", FaultClass::joint, [element](double added, double) {
        return std::vector<Change>{AddOhms{element, added}};
    });
    poor.size = resistance_range();
    poor.looks = "melted burnt loose slumped";
    (void)part;
    return element;
}

}  // namespace voltfall
