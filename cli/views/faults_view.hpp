// The answer of `faults` and its three ways of showing.
#pragma once

#include <string>

#include "cli/views/text_page.hpp"
#include "engine/figures/catalogue_symptoms.hpp"

namespace voltfall {

std::string faults_text(const FaultsAnswer& answer, PageStyle style);
std::string faults_json(const FaultsAnswer& answer);
std::string faults_plain(const FaultsAnswer& answer);

}  // namespace voltfall
