// One handler an alternative for std::visit: an alternative without a handler does not compile.
#pragma once

namespace voltfall {

template <class... Handlers>
struct Overloaded : Handlers... {
    using Handlers::operator()...;
};
template <class... Handlers>
Overloaded(Handlers...) -> Overloaded<Handlers...>;

}  // namespace voltfall
