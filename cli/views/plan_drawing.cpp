// The tree from left to right: a column a step, a row an end. Words beside every colour; prints on one page.
#include <fmt/format.h>

#include <algorithm>

#include "cli/views/figures.hpp"
#include "cli/views/plan_view.hpp"
#include "cli/views/svg_page.hpp"
#include "netlists/phrases/test_phrase.hpp"

namespace voltfall {

namespace {

// All in drawing units, about a tenth of a millimetre when printed on A4 across.
constexpr double column = 300;
constexpr double box_width = 225;
constexpr double line_height = 15;
constexpr double row_gap = 12;
constexpr double margin = 30;
constexpr double head = 78;
constexpr double least_width = 640;
constexpr int box_letters = 33;
constexpr std::string_view quiet = "#444";
constexpr std::string_view warning = "#a33";

struct Box {
    std::vector<std::string> lines;
    bool end{false};
    double top{};
    double height{};
    double middle() const { return top + height / 2; }
};

class Drawing {
public:
    explicit Drawing(const Circuit& circuit) : circuit_(circuit) {}

    /// Places the node and all behind it below `top`; gives where they end.
    double place(const PlanNode& node, std::size_t depth, double top) {
        deepest_ = std::max(deepest_, depth);
        Box box = box_of(node);
        double bottom = top;
        std::vector<double> middles;
        for (const PlanNode::Branch& branch : node.branches) {
            bottom = place(*branch.then, depth + 1, bottom);
            middles.push_back(last_middle_);
        }
        box.top = node.branches.empty() ? top : (middles.front() + middles.back()) / 2 - box.height / 2;
        box.top = std::max(box.top, top);
        last_middle_ = box.middle();
        const double left = margin + column * static_cast<double>(depth);
        draw_box(box, left);
        for (std::size_t i = 0; i < node.branches.size(); ++i) draw_branch(box, left, node.branches[i], middles[i]);
        return std::max(bottom, box.top + box.height + row_gap);
    }

    std::string page(const PlanView& view, double bottom) const {
        const double width = 2 * margin + column * static_cast<double>(deepest_) + box_width;
        const double height = bottom + 2 * margin + line_height * static_cast<double>(cautions_.size());
        SvgShapes page;
        page.text(margin, 28, view.circuit->name, {.size = 16, .bold = true});
        page.text(margin, 46, view.concern);
        page.text(margin, 62,
                  fmt::format("expected {}, worst {}; right repair in {}", shown_minutes(view.answer.expected_minutes),
                              shown_minutes(view.answer.worst_minutes), probability_words(view.answer.right)),
                  {.fill = quiet});
        double y = head;
        for (std::size_t i = 0; i < cautions_.size(); ++i, y += line_height)
            page.text(margin, y, fmt::format("! {} {}", i + 1, cautions_[i]), {.fill = warning});
        page.add(shapes_, y - head);
        return page.page(std::max(width, least_width), height);
    }

private:
    /// Cautions stand once, at the head; a step names those that are to be read before it.
    std::string mark_of(const std::string& caution) {
        const auto known = std::find(cautions_.begin(), cautions_.end(), caution);
        if (known != cautions_.end()) return std::to_string(known - cautions_.begin() + 1);
        cautions_.push_back(caution);
        return std::to_string(cautions_.size());
    }

    Box box_of(const PlanNode& node) {
        Box box;
        box.end = !node.test;
        if (box.end) {
            const std::string words = node.repair.empty() ? "nothing found: verify again" : "repair " + node.repair;
            box.lines = wrap_words(words, box_letters);
            box.lines.push_back(probability_words(node.probability));
        } else {
            box.lines = wrap_words(write_test(circuit_, *node.test), box_letters);
            box.lines.push_back(shown_minutes(node.minutes));
            if (!node.caution.empty()) {
                std::string marks = "!";
                for (const std::string& caution : node.caution) marks += " " + mark_of(caution);
                box.lines.push_back(marks);
            }
        }
        box.height = line_height * static_cast<double>(box.lines.size()) + 12;
        return box;
    }

    void draw_box(const Box& box, double left) {
        shapes_.box(left, box.top, box_width, box.height, box.end ? 10 : 2, box.end ? "#e8f2e8" : "#fff");
        double y = box.top + line_height + 2;
        for (std::size_t i = 0; i < box.lines.size(); ++i) {
            const bool caution = box.lines[i].starts_with("!");
            shapes_.text(left + 8, y, box.lines[i], {.bold = i == 0, .fill = caution ? warning : std::string_view()});
            y += line_height;
        }
    }

    void draw_branch(const Box& box, double left, const PlanNode::Branch& branch, double to) {
        const double from_x = left + box_width;
        const double to_x = left + column;
        shapes_.step(from_x, box.middle(), from_x + 12, to_x, to);
        shapes_.text(to_x - 3, to - 3, branch.outcome, {.size = 9, .at_end = true});
    }

    const Circuit& circuit_;
    std::vector<std::string> cautions_;
    double last_middle_{0};  ///< of the box placed last
    SvgShapes shapes_;
    std::size_t deepest_{0};
};

}  // namespace

std::string plan_drawing(const PlanView& view) {
    Drawing drawing(*view.circuit);
    const double bottom = view.answer.tree ? drawing.place(*view.answer.tree, 0, head) : head;
    return drawing.page(view, bottom);
}

}  // namespace voltfall
