// The answer of `prove`, in text and for programs.
#pragma once

#include <string>

#include "cli/views/shop_rate.hpp"
#include "cli/views/text_page.hpp"
#include "engine/proof/proof.hpp"

namespace voltfall {

struct ProofView {
    ProofAnswer answer;
    std::string next{};              ///< what to type when the next reading is taken
    std::optional<ShopRate> rate{};  ///< where the shop has said it
};

std::string proof_text(const ProofView& view, PageStyle style);
std::string proof_json(const ProofView& view);
std::string proof_plain(const ProofView& view);

/// "PROVED: 9 checks passed", "NOT PROVED: 2 open, 1 failed".
std::string verdict_of(const ProofAnswer& answer);

}  // namespace voltfall
