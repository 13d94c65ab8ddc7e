#include "cli/pictures/graphviz_library.hpp"

#include "netlists/platform/shared_library.hpp"

namespace voltfall {

namespace {

GraphvizLibrary open_library() {
    const SharedLibrary library(LIBRARY_FILE, "Graphviz");
    GraphvizLibrary found;
    library.find("agclose", found.close);
    library.find("agedge", found.edge);
    library.find("agnode", found.node);
    library.find("agopen", found.open);
    library.find("agsafeset", found.set);
    library.find("agsubg", found.subgraph);
    library.find("agsubnode", found.subnode);
    library.find("gvContext", found.context);
    library.find("gvFreeContext", found.free_context);
    library.find("gvFreeLayout", found.free_layout);
    library.find("gvLayout", found.layout);
    library.find("Agdirected", found.directed);
    return found;
}

}  // namespace

const GraphvizLibrary& graphviz_library() {
    static const GraphvizLibrary library = open_library();
    return library;
}

}  // namespace voltfall
