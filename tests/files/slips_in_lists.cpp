// Slips in a wire list.
#include "tests/files/bad_file.hpp"

namespace voltfall::testing {

namespace {

using enum SoundFile;

// clang-format off
constexpr BadFile rows[] = {
    {wire_list, "wire,from,pin,to,pin", "wire,form,pin,to,pin", "from"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,,4,6,RD,0.9", "end of the wire"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,six,RD,0.9", "'six'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,-6,RD,0.9", "'-6'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,0,RD,0.9", "'0'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,6V,RD,0.9", "'6V'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,6,RD,long", "'long'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,6,RD,0", "'0'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7;quit,2,C101,4,6,RD,0.9", "F7;quit"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "5;41,F7,2,C101,4,6,RD,0.9", "'5;41'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "\"541,F7,2,C101,4,6,RD,0.9", "never closed"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,6,RD,9000", "'9000'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,6000,RD,0.9", "'6000'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,F7,2,6,RD,0.9", "ends where it begins"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,2,5,RD,0.9", "under no heading"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C\xE4,4,6,RD,0.9", "not UTF-8"},
    {wire_list, "wire,from,pin", "wire;from,pin", "second sort of separator"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,6,RD,0.9,extra", "under no heading"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,,2,C101,4,6,RD,0.9", "end of the wire"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,6,RD,-0.9", "'-0.9'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,6,RD,1e99", "1e99"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,6,RD,0.9 m of it", "0.9 m of it"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,6mm3,RD,0.9", "'6mm3'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,nan,RD,0.9", "'nan'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,6,RD,inf", "'inf'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2 3,C101,4,6,RD,0.9", "2 3"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4 > M1.1,6,RD,0.9", ">"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4.5,6,RD,0.9", "4.5"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "54\0011,F7,2,C101,4,6,RD,0.9", "control character"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C\xE2\x80\xAE" "101,4,6,RD,0.9", "U+202E"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,6,RD,\"0.9", "never closed"},
    {wire_list, "wire,from,pin,to,pin,size,colour,length\n", "", "heading"},
    {wire_list, "wire,from,pin,to,pin,size,colour,length", "wire,from,pin,size,colour,length", "to"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,6V,RD,0.9A", "'0.9A'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7.2.3,,C101.4,,6,RD,0.9", "'F7.2.3' is no name"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "5#41!,F7,2,C101,4,6,RD,0.9", "'5#41!' is no number of a wire"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,B1,*,B1,-,6,RD,0.9", "'B1.*' is no name"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7+,2,C101,4,6,RD,0.9", "'F7+.2' is no name"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,FFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFFF,2,C101,4,6,RD,0.9", "is no name of a part"},
    {wire_list, "wire,from,pin,to,pin,size,colour,length", "sep=\nwire,from,pin,to,pin,size,colour,length", "the first row says sep="},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,\"C101\",4,6V,RD,0.9", "'6V'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C101,4,6V,\"RD\"\"x\",0.9", "'6V'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,\"F7\nx\",2,C101,4,6V,RD,0.9", "x.2' is no name"},
    {wire_list, "wire,from,pin", "wire;from|pin", "second sort of separator"},
    {wire_list, "wire,from,pin", "wire,fromage,pin", "no column is headed 'from'"},
    {wire_list, "541,F7,2,C101,4,6,RD,0.9", "541,F7,2,C0,4,6,RD,0.9\n541,F7,2,C1,4,6,RD,0.9\n541,F7,2,C2,4,6,RD,0.9\n541,F7,2,C3,4,6,RD,0.9\n541,F7,2,C4,4,6,RD,0.9\n541,F7,2,C5,4,6,RD,0.9\n541,F7,2,C6,4,6,RD,0.9\n541,F7,2,C7,4,6,RD,0.9\n541,F7,2,C8,4,6,RD,0.9\n541,F7,2,C9,4,6,RD,0.9\n541,F7,2,C10,4,6,RD,0.9\n541,F7,2,C11,4,6,RD,0.9\n541,F7,2,C12,4,6,RD,0.9\n541,F7,2,C13,4,6,RD,0.9\n541,F7,2,C14,4,6,RD,0.9\n541,F7,2,C15,4,6,RD,0.9\n541,F7,2,C16,4,6,RD,0.9\n541,F7,2,C17,4,6,RD,0.9\n541,F7,2,C18,4,6,RD,0.9\n541,F7,2,C19,4,6,RD,0.9\n541,F7,2,C20,4,6,RD,0.9\n541,F7,2,C21,4,6,RD,0.9\n541,F7,2,C22,4,6,RD,0.9\n541,F7,2,C23,4,6,RD,0.9\n541,F7,2,C24,4,6,RD,0.9\n541,F7,2,C25,4,6,RD,0.9\n541,F7,2,C26,4,6,RD,0.9\n541,F7,2,C27,4,6,RD,0.9", "wire '541' stands too often", 27},
};
// clang-format on

}  // namespace

std::span<const BadFile> slips_in_lists() {
    return rows;
}

}  // namespace voltfall::testing
