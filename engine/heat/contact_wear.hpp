// What overloaded contacts have borne so far.
#pragma once

#include <vector>

#include "engine/heat/aftermath.hpp"
#include "engine/heat/rated_contacts.hpp"

namespace voltfall {

/// The rated contacts of a circuit while a case is followed: each has borne a share of what it bears at its current. At
/// changing currents the shares add.
class ContactWear {
public:
    /// `contacts` must outlive this.
    explicit ContactWear(const std::vector<RatedContact>& contacts);

    /// The contacts that wear out at these currents, with the seconds from now. `share` of the time the currents flow.
    void add_events(const Settled& carrying, double share, std::vector<HeatEvent>& events) const;
    void wear(const Settled& carrying, double share, double seconds);
    /// It has worn out and is not told again.
    void mark(const std::string& name);

private:
    const std::vector<RatedContact>& contacts_;
    std::vector<double> worn_;  ///< by contact; 1: it has borne all
};

}  // namespace voltfall
