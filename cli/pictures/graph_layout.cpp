#include "cli/pictures/graph_layout.hpp"

#include <fmt/format.h>

#include <stdexcept>
#include <string>

#include "cli/pictures/graphviz_library.hpp"

namespace voltfall {

namespace {

/// Graphviz counts in points of 1/72 inch; one unit of a drawing is one point.
constexpr double points_an_inch = 72;

/// The library's context, graph and layout, freed in their order.
class Graph {
public:
    Graph()
        : context_(graphviz_library().context()),
          graph_(graphviz_library().open(name("wiring").data(), *graphviz_library().directed, nullptr)) {
        if (context_ == nullptr || graph_ == nullptr) throw std::runtime_error("Graphviz cannot be used for drawings");
    }
    ~Graph() {
        if (laid_out_) graphviz_library().free_layout(context_, graph_);
        if (graph_ != nullptr) graphviz_library().close(graph_);
        if (context_ != nullptr) graphviz_library().free_context(context_);
    }
    Graph(const Graph&) = delete;
    Graph& operator=(const Graph&) = delete;

    Agraph_t* get() const { return graph_; }

    static void set(void* thing, const char* key, const std::string& value) {
        graphviz_library().set(thing, name(key).data(), name(value).data(), name("").data());
    }

    Agnode_t* add_box(std::size_t index, const LayoutBox& box) {
        Agnode_t* node = graphviz_library().node(graph_, name("n" + std::to_string(index)).data(), 1);
        set(node, "shape", "box");
        set(node, "label", "");
        set(node, "fixedsize", "true");
        set(node, "width", fmt::format("{:.4f}", box.width / points_an_inch));
        set(node, "height", fmt::format("{:.4f}", box.height / points_an_inch));
        return node;
    }

    /// Boxes of one layer, the first or the last.
    void add_layer(const char* rank, const std::vector<Agnode_t*>& nodes) {
        if (nodes.empty()) return;
        Agraph_t* layer = graphviz_library().subgraph(graph_, name(rank).data(), 1);
        set(layer, "rank", rank);
        for (Agnode_t* node : nodes) graphviz_library().subnode(layer, node, 1);
    }

    void lay_out() {
        if (graphviz_library().layout(context_, graph_, "dot") != 0)
            throw std::runtime_error("Graphviz has no layout 'dot'; its plugins are installed with libgvc6");
        laid_out_ = true;
    }

private:
    /// The library takes texts that it does not change as writable.
    static std::string name(std::string text) { return text; }

    GVC_t* context_;
    Agraph_t* graph_;
    bool laid_out_{false};
};

SvgPoints curve_of(Agedge_t* edge, double height) {
    SvgPoints points;
    const splines* drawn = ED_spl(edge);
    if (drawn == nullptr || drawn->size == 0) return points;
    for (std::size_t i = 0; i < static_cast<std::size_t>(drawn->list[0].size); ++i)
        points.emplace_back(drawn->list[0].list[i].x, height - drawn->list[0].list[i].y);
    return points;
}

}  // namespace

GraphLayout lay_out(const std::vector<LayoutBox>& boxes, const std::vector<LayoutLine>& lines,
                    const std::vector<std::size_t>& top, const std::vector<std::size_t>& bottom) {
    Graph graph;
    Graph::set(graph.get(), "nodesep", "0.14");
    Graph::set(graph.get(), "ranksep", "0.22");
    Graph::set(graph.get(), "esep", "+6");  // room between a line and the boxes that it passes
    std::vector<Agnode_t*> nodes;
    for (std::size_t i = 0; i < boxes.size(); ++i) nodes.push_back(graph.add_box(i, boxes[i]));
    std::vector<Agedge_t*> edges;
    for (const LayoutLine& line : lines) {
        Agedge_t* edge = graphviz_library().edge(graph.get(), nodes[line.from], nodes[line.to], nullptr, 1);
        Graph::set(edge, "dir", "none");
        edges.push_back(edge);
    }
    const auto nodes_of = [&](const std::vector<std::size_t>& indices) {
        std::vector<Agnode_t*> found;
        for (const std::size_t index : indices) found.push_back(nodes[index]);
        return found;
    };
    graph.add_layer("source", nodes_of(top));
    graph.add_layer("sink", nodes_of(bottom));
    graph.lay_out();
    GraphLayout layout;
    layout.width = GD_bb(graph.get()).UR.x;
    layout.height = GD_bb(graph.get()).UR.y;
    for (Agnode_t* node : nodes) layout.centres.emplace_back(ND_coord(node).x, layout.height - ND_coord(node).y);
    for (Agedge_t* edge : edges) layout.lines.push_back(curve_of(edge, layout.height));
    return layout;
}

}  // namespace voltfall
