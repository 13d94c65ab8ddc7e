// A job on a phone: the next test as one big card, the ranking and where the volts fall below.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/report/job_report.hpp"

namespace voltfall {

/// The test on the card.
struct AskedTest {
    Test test;
    std::string phrase;  ///< as a person may type it
    std::string cost;    ///< "2 min; shows 0.05ohm or more"; empty after a repair
    std::vector<std::string> cautions;
    std::vector<Expectation> expect;  ///< what the suspects would show
};

/// What undo takes out.
struct LastKept {
    std::string what;   ///< "reading 9", "readings 9 and 10", "what was repaired at R1"; empty: nothing
    std::string key;    ///< of the last of them
    std::string words;  ///< as they stand in the file
};

struct JobPage {
    std::string base;  ///< of its addresses: "" or "/job/weak-air.job.toml"; beside it stands the list of jobs
    ReportView view;
    std::optional<AskedTest> asked;  ///< nothing more to ask where it is not there
    bool left_out{false};            ///< nothing is asked because this browser has left out what is at hand
    std::string message;             ///< what the last answer did, or what was wrong with it
    std::string news;                ///< what others have done meanwhile
    std::string stamp;               ///< of the file as shown
    std::string typed;               ///< what could not be read, to be mended
    LastKept last;
    std::string turn;  ///< of this page: an answer that is sent twice counts once
};

/// Has something been mended? Then the card asks for what proves it.
bool is_mended(const Job& job);

std::string job_page(const JobPage& page);
/// The frame that looks for news; empty where there is none. `base` as of the job's page, also below.
std::string news_page(const std::string& base, const std::string& news);
/// The address for one more browser, with its QR code.
std::string invite_page(const std::string& base, const std::string& address, const std::string& qr_svg);

/// A job in a list.
struct ListedJob {
    std::string name;  ///< of its file
    std::string concern;
    std::string state;    ///< "4 readings", "mended: C101.4"
    std::string problem;  ///< why it cannot be worked; else empty
};
/// `lessons`: do lessons stand beside them?
std::string jobs_page(const std::vector<ListedJob>& jobs, bool lessons);
/// Where the job of that file stands: "/job/weak-air.job.toml".
std::string job_base(const std::string& name);

}  // namespace voltfall
