#include "cli/serve/job_page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/report/workshop_sheet.hpp"
#include "cli/serve/request.hpp"
#include "cli/views/figures.hpp"
#include "cli/views/next_view.hpp"
#include "cli/views/proof_view.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/vocabulary.hpp"
#include "netlists/text/overloaded.hpp"

namespace voltfall {

namespace {

std::vector<std::string> first_of(Sayings sayings, std::size_t count) {
    return words_of(sayings.first(std::min(count, sayings.size())));
}

std::vector<std::string> load_words(LoadKind kind) {
    std::vector<std::string> words;
    for (const std::string_view word : load_words_of(kind)) words.emplace_back(load_word_said(kind, word));
    return words;
}

/// Words that the test may be answered by, on buttons; none where a number is asked.
std::vector<std::string> answers_to(const Circuit& circuit, const Test& test) {
    using Words = std::vector<std::string>;
    constexpr std::size_t usual = 2;  // of a relay and a fuse the others are rare
    return std::visit(
        Overloaded{[&](const LoadTest& load) { return load_words(load_kind_of(circuit.part(load.part))); },
                   [](const LampTest&) { return words_of(test_lamp_sayings()); },
                   [](const BeepTest&) { return words_of(beep_sayings()); },
                   [](const AirTest&) { return words_of(air_sayings()); },
                   [](const RelayTest&) { return first_of(relay_sayings(), usual); },
                   [](const FuseTest&) { return first_of(fuse_sayings(), usual); },
                   [](const LookTest&) {
                       return Words{"clean", "burnt", "crust", "rubbed"};
                   },
                   [](const OhmsTest&) { return Words{"open"}; }, [](const auto&) { return Words{}; }},
        test.tested);
}

void open_answer(HtmlPage& page, const JobPage& job) {
    page.open_form(job.base + "/answer");
    page.hidden("turn", job.turn);
    page.hidden("test", job.asked->phrase);
}

/// A word for each position that is asked about; the buttons below say the same of all.
void write_positions(HtmlPage& page, const JobPage& job, const std::vector<std::string>& words) {
    const ControlSetting& setting = job.asked->test.state.settings.back();
    open_answer(page, job);
    for (std::size_t i = 0; i < setting.positions.size(); ++i) {
        StatePhrase one;
        one.settings = {{setting.part, {setting.positions[i]}}};
        page.choice(fmt::format("at{}", i), write_state(*job.view.circuit, one), "not tried", words);
    }
    page.button("do", "keep", "Keep these", "main");
    page.close("form");
    page.paragraph("Or the same in all of them:", "quiet");
}

void write_asked(HtmlPage& page, const JobPage& job) {
    const AskedTest& asked = *job.asked;
    if (!asked.cautions.empty()) {
        page.open("div", "caution");
        std::vector<std::string> cautions;
        for (const std::string& caution : asked.cautions) cautions.push_back(without_mark(caution));
        page.labelled("Caution", "first:");
        page.list(cautions);
        page.close("div");
    }
    page.heading(2, asked.phrase);
    const std::string how = how_asked(*job.view.circuit, asked.test);
    if (!how.empty()) page.paragraph(how);
    if (!asked.cost.empty()) page.paragraph(asked.cost, "quiet");
    const std::vector<std::string> words = answers_to(*job.view.circuit, asked.test);
    if (!how.empty()) write_positions(page, job, words);
    open_answer(page, job);
    for (const std::string& word : words) page.button("value", word, word);
    page.close("form");
    open_answer(page, job);
    page.field("value", "What you read", "text");
    page.button("do", "keep", "Keep it", "main");
    page.button("do", "skip", "Another test");
    page.close("form");
    std::vector<std::vector<std::string>> rows;
    for (const Expectation& expectation : asked.expect) rows.push_back({expectation.fault, expected_text(expectation)});
    page.table({"if it is", "you read"}, rows);
}

void write_card(HtmlPage& page, const JobPage& job) {
    const bool over = job.view.proof && !job.view.still_faulty ? job.view.proof->proved
                                                               : !job.asked && job.view.next.stop.has_value();
    if (over) return;
    page.open("section", "card");
    if (job.asked) {
        write_asked(page, job);
    } else if (job.left_out) {
        page.heading(2, "The tests at hand have been left out");
        page.open_form(job.base + "/answer");
        page.hidden("turn", job.turn);
        page.button("do", "again", "Ask them again", "main");
        page.close("form");
    } else {
        page.heading(2, job.view.proof && !job.view.still_faulty ? "No test at hand closes what is open: see below"
                                                                 : "No further test at hand tells the suspects apart");
    }
    page.close("section");
}

/// Where the work is done, or the job is at its end without any.
void write_repair_form(HtmlPage& page, const JobPage& job) {
    page.open_form(job.base + "/repaired");
    page.hidden("turn", job.turn);
    const bool again = !job.view.job.repaired.empty();
    page.field("repaired",
               again ? "What else was mended: where, and what was done" : "When it is mended: where, and what was done",
               {}, {});
    page.button("do", "keep", again ? "That is mended too" : "It is mended", again ? "" : "main");
    if (!again) page.button("do", "nothing", "No fault found");
    page.close("form");
}

void write_stop_card(HtmlPage& page, const JobPage& job) {
    const StopAdvice& stop = *job.view.next.stop;
    page.open("section", "card");
    // In plain words, where the first of the list below is what is meant.
    const auto& suspects = job.view.suspects;
    const bool first = !suspects.empty() && suspects.front().fault.starts_with(stop.fault);
    page.heading(2, "Enough is known: " + (first ? suspects.front().plain : stop.fault));
    write_stop_reasons(page, stop);
    write_repair_form(page, job);
    page.close("section");
}

/// A reading at the load that is drawn, in its position, as a person would type it.
std::string example_reading(const JobPage& job, std::string_view volts) {
    const Circuit& circuit = *job.view.circuit;
    const PartId load = circuit.find_part(job.view.ladder.load);
    std::string point = circuit.part(circuit.battery).name + "+";
    if (load.valid() && !circuit.part(load).pins.empty())
        point = circuit.part(load).name + "." + circuit.part(load).pins.begin()->first;
    const bool says_key = job.view.state.find("key") != std::string::npos;
    std::string state = says_key ? "" : "key run";
    if (!job.view.state.empty()) state += (state.empty() ? "" : ", ") + job.view.state;
    return fmt::format("{}  {} to {}  {}", state, point, circuit.joint(circuit.reference).name, volts);
}

void write_other(HtmlPage& page, const JobPage& job) {
    page.open_form(job.base + "/answer");
    page.hidden("turn", job.turn);
    page.field("reading",
               job.view.proof ? "Another reading after the repair: " + example_reading(job, "13.6V")
                              : "Something else, as a whole reading: " + example_reading(job, "10.3V"),
               {}, job.typed);
    page.button("do", "keep", "Keep it", "main");
    page.close("form");
    if (!job.last.what.empty()) {
        page.open_form(job.base + "/undo");
        page.hidden("turn", job.turn);
        page.hidden("key", job.last.key);
        page.button("do", "undo", "Take out " + job.last.what);
        page.close("form");
        page.paragraph(job.last.key + ": " + job.last.words, "quiet");
    }
    if (job.view.proof || !job.view.next.stop) write_repair_form(page, job);
}

/// What is kept, by the keys that texts of the page call it by ("reading 3 again").
void write_readings(HtmlPage& page, std::string_view title, const std::vector<Reading>& readings) {
    if (readings.empty()) return;
    std::vector<std::string> lines;
    for (const Reading& reading : readings) lines.push_back(reading.id + ": " + reading.text);
    page.heading(2, title);
    page.list(lines);
}

}  // namespace

bool is_mended(const Job& job) {
    return !job.repaired.empty() || !job.after.empty();
}

std::string job_page(const JobPage& job) {
    HtmlPage page;
    const std::string& concern = job.view.job.concern;
    page.heading(1, concern.empty() ? job.view.circuit->name : concern);
    const std::size_t kept = job.view.job.readings.size() + job.view.job.after.size();
    page.paragraph(counted(kept, "reading") + " kept in " + job.view.job.path, "quiet");
    if (!job.news.empty()) page.paragraph(job.news, "told");
    if (!job.message.empty()) page.paragraph(job.message, "told");
    if (!job.typed.empty()) page.labelled("Typed:", job.typed, "bad");
    if (job.view.proof) {
        page.paragraph(verdict_of(*job.view.proof), job.view.proof->proved ? "good" : "bad");
        for (const ProofCheck& check : job.view.proof->checks)
            if (check.result == CheckResult::failed)
                page.labelled("Failed:", check.what + ", " +
                                             (check.why.empty() ? check.after + " and not " + check.limit : check.why));
    }
    if ((!job.view.proof || job.view.still_faulty) && job.view.next.stop) write_stop_card(page, job);
    write_card(page, job);
    write_other(page, job);
    page.frame(job.base + "/news?seen=" + job.stamp, "Changes by others");
    if (job.view.proof) write_proof(page, job.view);
    write_readings(page, "Read after the repair", job.view.job.after);
    write_readings(page, is_mended(job.view.job) ? "Read before it" : "Read so far", job.view.job.readings);
    write_suspects(page, job.view);
    write_ladder(page, job.view.ladder);
    write_wiring(page, job.view);
    page.link(job.base + "/report", "The whole report, to print or to keep");
    if (!job.base.empty()) page.link("/jobs", "All jobs");
    page.open_form(job.base + "/invite");
    page.button("do", "invite", "Let another phone or screen in");
    page.close("form");
    page.paragraph("The vehicle maker's procedure, figures and order come first; this is a planning aid.", "quiet");
    return page.file(concern.empty() ? job.view.circuit->name : concern, "", PageForms::to_own_server);
}

std::string news_page(const std::string& base, const std::string& news) {
    constexpr int seconds = 4;
    HtmlPage page;
    if (!news.empty()) {
        page.link(base + "/", news + " Show it");
    } else {
        page.paragraph("Up to date: changes by others show here.", "quiet");
    }
    return page.file("News", "", PageForms::to_own_server, seconds);
}

std::string invite_page(const std::string& base, const std::string& address, const std::string& qr_svg) {
    HtmlPage page;
    page.heading(1, "Let another phone or screen in");
    page.paragraph("Open this address there. It opens once, for one browser; readings of both go into the same job.");
    page.paragraph(address, "address");
    page.picture(qr_svg, PictureWidth::own, "");
    page.link(base + "/", "Back to the job");
    return page.file("Let another in", "", PageForms::to_own_server);
}

std::string jobs_page(const std::vector<ListedJob>& jobs, bool lessons) {
    HtmlPage page;
    page.heading(1, "Jobs");
    for (const ListedJob& job : jobs) {
        page.open("section", "card");
        page.heading(2, job.concern.empty() ? job.name : job.concern);
        if (!job.concern.empty()) page.paragraph(job.name, "quiet");
        page.paragraph(job.problem.empty() ? job.state : job.problem, job.problem.empty() ? "quiet" : "bad");
        if (job.problem.empty()) page.link(job_base(job.name) + "/", "Work it");
        page.close("section");
    }
    if (lessons) page.link("/", "Lessons");
    return page.file("Jobs", "", PageForms::to_own_server);
}

std::string job_base(const std::string& name) {
    return "/job/" + query_text(name);
}

}  // namespace voltfall
