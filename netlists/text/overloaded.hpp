// One handler an alternative for std::visit: an alternative without a handler does not compile.
#pragma once

namespace voltfall {

template <class... Handlers>
struct Overloaded : Handlers... {
    using Handlers::operator()...;
};
template <class... Handlers>
Overloaded(Handlers...) -> Overloaded<Handlers...>;

template <class Alternative, class Handler>
struct HandlerOf {
    Handler handler;
    auto operator()(const Alternative&) const { return handler(); }
};

/// One handler, without arguments, for several alternatives, each named.
template <class... Alternatives, class Handler>
auto alike(Handler handler) {
    return Overloaded{HandlerOf<Alternatives, Handler>{handler}...};
}

}  // namespace voltfall
