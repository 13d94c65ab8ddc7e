// Graphviz, opened when something is drawn.
#pragma once

#include <graphviz/gvc.h>

namespace voltfall {

/// The functions of the library that are used, and what it calls a directed graph.
struct GraphvizLibrary {
    decltype(&agclose) close{};
    decltype(&agedge) edge{};
    decltype(&agnode) node{};
    decltype(&agopen) open{};
    decltype(&agsafeset) set{};
    decltype(&agsubg) subgraph{};
    decltype(&agsubnode) subnode{};
    decltype(&gvContext) context{};
    decltype(&gvFreeContext) free_context{};
    decltype(&gvFreeLayout) free_layout{};
    decltype(&gvLayout) layout{};
    const Agdesc_t* directed{};
};

/// Opens the library at the first call. Throws std::runtime_error where it is not there or lacks a function.
const GraphvizLibrary& graphviz_library();

}  // namespace voltfall
