#include "engine/courses/dictionary.hpp"

#include <algorithm>
#include <atomic>
#include <cstring>
#include <functional>

#include "engine/courses/packed_course.hpp"

namespace voltfall {

namespace {

constexpr std::size_t shard_count = 16;

/// A key is the bytes of everything that a solution depends on.
class KeyWriter {
public:
    explicit KeyWriter(std::string start) : key_(std::move(start)) {}
    template <class Value>
    void add(const Value& value) {
        static_assert(std::is_trivially_copyable_v<Value>);
        const auto at = key_.size();
        key_.resize(at + sizeof(Value));
        std::memcpy(key_.data() + at, &value, sizeof(Value));
    }
    void add_text(const std::string& text) {
        add(text.size());
        key_ += text;
    }
    template <class List, class Add>
    void add_list(const List& list, const Add& add_one) {
        add(list.size());
        for (const auto& one : list) add_one(one);
    }
    std::string take() { return std::move(key_); }

private:
    std::string key_;
};

/// Everything of a state but its label.
std::string state_key(const State& state) {
    KeyWriter key({});
    key.add(state.key);
    key.add_list(state.positions, [&](std::size_t position) { key.add(position); });
    key.add_list(state.unplugged, [&](const std::string& name) { key.add_text(name); });
    for (const auto* parts : {&state.pulled, &state.lamp_in, &state.fitted_new})
        key.add_list(*parts, [&](PartId part) { key.add(part); });
    key.add_list(state.leads, [&](const AddedLead& lead) {
        key.add(lead.kind);
        key.add(lead.a);
        key.add(lead.b);
        key.add(lead.watts);
    });
    for (const auto* words : {&state.new_plugs, &state.mended, &state.conditions, &state.handled})
        key.add_list(*words, [&](const std::string& word) { key.add_text(word); });
    key.add(state.supply_volts.has_value());
    key.add(state.supply_volts.value_or(0));
    return key.take();
}

std::string case_key(const std::string& state, const SettleCase& of) {
    KeyWriter key(state);
    key.add_list(of.faults, [&](const Fault& fault) {
        key.add(fault.mode.get());
        key.add(fault.size);
        key.add(fault.where);
        key.add_text(fault.condition);
        key.add(fault.size_in_condition.has_value());
        key.add(fault.size_in_condition.value_or(0));
    });
    std::vector<PartId> opened(of.opened.begin(), of.opened.end());
    std::sort(opened.begin(), opened.end());
    key.add_list(opened, [&](PartId part) { key.add(part); });
    return key.take();
}

}  // namespace

std::optional<std::uint64_t> CellValues::stand() const {
    const std::lock_guard lock(lock_);
    return stand_;
}

void CellValues::keep_stand(std::uint64_t stand) {
    const std::lock_guard lock(lock_);
    stand_ = stand;
}

std::optional<LoadState> CellValues::find_load(PartId part) const {
    const std::lock_guard lock(lock_);
    for (const auto& [known, state] : loads_) {
        if (known == part) return state;
    }
    return std::nullopt;
}

void CellValues::keep_load(PartId part, const LoadState& state) {
    const std::lock_guard lock(lock_);
    loads_.emplace_back(part, state);
}

std::shared_ptr<const CellValue> CellValues::find(const CellPlace& place) const {
    const std::lock_guard lock(lock_);
    for (const auto& [known, value] : values_) {
        if (known == place) return value;
    }
    return nullptr;
}

void CellValues::keep(const CellPlace& place, std::shared_ptr<const CellValue> value) {
    const std::lock_guard lock(lock_);
    for (const auto& [known, same] : values_) {
        if (known == place) return;
    }
    values_.emplace_back(place, std::move(value));
}

/// A course kept, with the faults' modes, whose addresses are part of the key and must not be used again.
struct Dictionary::Entry {
    std::shared_ptr<const PackedCourse> course;  ///< null where the case has no solution
    std::shared_ptr<CellValues> at_start;
    std::shared_ptr<CellValues> at_end;
    std::vector<ModePtr> modes;
};

struct Dictionary::Shard {
    std::mutex lock;
    std::unordered_map<std::string, Entry> entries;
    Counters counters;
};

Dictionary::Dictionary(Simulator& simulator, const Circuit& circuit)
    : circuit_(circuit), bare_(circuit), consequences_(std::make_shared<const Consequences>(simulator, circuit)) {
    for (std::size_t i = 0; i < shard_count; ++i) shards_.push_back(std::make_unique<Shard>());
}

Dictionary::~Dictionary() = default;

Dictionary::Shard& Dictionary::shard_of(const std::string& key) const {
    return *shards_[std::hash<std::string>{}(key) % shard_count];
}

std::vector<KnownCourse> Dictionary::courses(Simulator& simulator, std::span<const SettleCase> cases) {
    std::vector<KnownCourse> known(cases.size());
    std::vector<std::string> keys(cases.size());
    std::vector<std::size_t> missing;
    const State* last = nullptr;
    std::string state;
    for (std::size_t i = 0; i < cases.size(); ++i) {
        if (!last || !(*cases[i].state == *last)) state = state_key(*cases[i].state);
        last = cases[i].state;
        keys[i] = case_key(state, cases[i]);
        Shard& shard = shard_of(keys[i]);
        const std::lock_guard lock(shard.lock);
        const auto found = shard.entries.find(keys[i]);
        if (found == shard.entries.end()) {
            missing.push_back(i);
            continue;
        }
        ++shard.counters.found;
        const Entry& entry = found->second;
        if (entry.course) known[i].course = CourseRef(entry.course, bare_);
        known[i].at_start = entry.at_start;
        known[i].at_end = entry.at_end;
    }
    std::vector<SettleCase> wanted;
    for (const std::size_t i : missing) wanted.push_back(cases[i]);
    std::vector<CourseResult> solved = run_courses(simulator, circuit_, wanted);
    for (std::size_t k = 0; k < missing.size(); ++k) {
        const std::size_t i = missing[k];
        Entry entry;
        if (solved[k]) {
            entry.course = std::make_shared<const PackedCourse>(*solved[k], bare_);
            known[i].course = CourseRef(*std::move(solved[k]));
        }
        known[i].at_start = entry.at_start = std::make_shared<CellValues>();
        known[i].at_end = entry.at_end = std::make_shared<CellValues>();
        for (const Fault& fault : cases[i].faults) entry.modes.push_back(fault.mode);
        Shard& shard = shard_of(keys[i]);
        const std::lock_guard lock(shard.lock);
        ++shard.counters.solved;
        const std::size_t bytes = keys[i].size() + (entry.course ? entry.course->bytes() : 0) + sizeof(Entry);
        if (shard.counters.bytes + bytes > most_bytes / shard_count) continue;
        if (shard.entries.emplace(std::move(keys[i]), std::move(entry)).second) shard.counters.bytes += bytes;
    }
    return known;
}

Dictionary::Counters Dictionary::counters() const {
    Counters sum;
    for (const auto& shard : shards_) {
        const std::lock_guard lock(shard->lock);
        sum.found += shard->counters.found;
        sum.solved += shard->counters.solved;
        sum.bytes += shard->counters.bytes;
    }
    return sum;
}

}  // namespace voltfall
