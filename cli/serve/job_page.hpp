// A job on a phone: the next test as one big card, the ranking and where the volts fall below.
#pragma once

#include <string>
#include <vector>

#include "cli/report/job_report.hpp"

namespace voltfall {

struct JobPage {
    ReportView view;
    const TestProposal* asked{nullptr};  ///< of `view.next`; null: nothing more to ask
    std::string asked_phrase;            ///< as a person may type it
    std::string message;                 ///< what the last answer did, or what was wrong with it
    std::string news;                    ///< what others have done meanwhile
    std::string stamp;                   ///< of the file as shown
    std::string typed;                   ///< what could not be read, to be mended
    std::string last_key;                ///< of the reading that undo takes out; empty: none
    std::string last_reading;
    std::string turn;  ///< of this page: an answer that is sent twice counts once
};

std::string job_page(const JobPage& page);
/// The frame that looks for news; empty where there is none.
std::string news_page(const std::string& news);
/// The address for one more browser, with its QR code.
std::string invite_page(const std::string& address, const std::string& qr_svg);

}  // namespace voltfall
