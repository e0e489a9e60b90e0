// SPDX-License-Identifier: MIT
//
// Platewright for C++17: a header over the C API, nothing to build.
//
//     auto result = platewright::validate("3Y86N400001");
//     for (const auto &reading : result.readings())
//         std::cout << reading.title() << '\n';
//
// What comes back are values. Each keeps alive whatever it rests on: a row its
// tables, a field its result. They are not changed by anything, and copying one
// costs a reference count. Use a result, a comparison and what was taken out of
// them in one thread at a time; tables and names may be shared.
//
// Grades, states, verdicts and the like are the numbers of platewright.h
// (PLW_GRADE_FAULT), whose functions tell their names (plw_grade_name). Text goes
// in as std::string_view in UTF-8. A std::string_view that comes back lives as
// long as the tables or names behind it.
//
// What the library refuses is a platewright::error that carries the status; no
// memory is std::bad_alloc. A strange number is no error: it has findings.

#ifndef PLATEWRIGHT_HPP
#define PLATEWRIGHT_HPP

#include <platewright.h>

#include <cstddef>
#include <cstdint>
#include <cstring>
#include <memory>
#include <new>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace platewright
{

// ---- Errors --------------------------------------------------------------

class error : public std::runtime_error
{
public:
    explicit error(std::int32_t status)
        : std::runtime_error(std::string(plw_status_text(status)) + " (" + plw_status_name(status) +
                             ")"),
          status_(status)
    {
    }

    std::int32_t status() const noexcept { return status_; }
    std::string_view name() const noexcept { return plw_status_name(status_); }

private:
    std::int32_t status_;
};

// The library that is running does not suit the header that was compiled.
class version_error : public std::runtime_error
{
public:
    using std::runtime_error::runtime_error;
};

// ---- What the rest is made of --------------------------------------------

namespace detail
{

inline void check(std::int32_t status)
{
    if (status == PLW_E_MEMORY)
        throw std::bad_alloc();
    if (status != PLW_OK)
        throw error(status);
}

// The same major release, and not an older one.
inline void check_version()
{
    const std::uint32_t running = plw_version_number();
    if (running / 10000 != PLW_VERSION_NUMBER / 10000 || running < PLW_VERSION_NUMBER)
        throw version_error("this program was compiled for platewright " PLW_VERSION_TEXT
                            "; the library found has number " +
                            std::to_string(running));
}

// The text that a function writes to (buffer, capacity, needed).
template <class Function, class... Arguments>
std::string text(Function function, Arguments... arguments)
{
    std::string buffer(120, '\0');
    std::size_t needed = 0;
    std::int32_t status = function(arguments..., buffer.data(), buffer.size() + 1, &needed);
    if (status == PLW_E_SHORT) {
        buffer.resize(needed - 1);
        status = function(arguments..., buffer.data(), needed, &needed);
    }
    check(status);
    buffer.resize(needed - 1);
    return buffer;
}

// An item for each index from 0.
template <class Make>
auto each(std::uint32_t count, Make make)
{
    std::vector<decltype(make(0u))> items;
    items.reserve(count);
    for (std::uint32_t index = 0; index < count; index++)
        items.push_back(make(index));
    return items;
}

inline std::optional<std::uint32_t> optional_index(std::uint32_t index)
{
    return index == PLW_NONE ? std::nullopt : std::optional(index);
}

// Positions from 1, of a set in which bit 0 is position 1; indices from 0, alike.
inline std::vector<std::uint32_t> members(std::uint32_t set, std::uint32_t first)
{
    std::vector<std::uint32_t> found;
    for (std::uint32_t bit = 0; bit < 32; bit++)
        if (set >> bit & 1u)
            found.push_back(bit + first);
    return found;
}

inline std::vector<std::uint32_t> positions(std::uint32_t set)
{
    return members(set, 1);
}

// Never NULL, also for a view of nothing.
inline const char *bytes(std::string_view text)
{
    return text.data() ? text.data() : "";
}

// Hints end in a zero byte for the library, so they must not hold another.
inline std::string hints(std::string_view text)
{
    if (text.find('\0') != std::string_view::npos)
        throw error(PLW_E_HINT);
    return std::string(text);
}

} // namespace detail

// ---- Tables and their rows -----------------------------------------------

class tables;

class source
{
public:
    source(const tables &owner, std::uint32_t index);

    std::string_view key() const;
    std::string_view citation() const;
    std::string_view address() const; // "" when there is none

private:
    std::shared_ptr<const plw_tables> tables_;
    std::uint32_t index_;
};

class row;

class layout
{
public:
    layout(std::shared_ptr<const plw_tables> owner, std::uint32_t scheme, std::uint32_t index)
        : tables_(std::move(owner)), scheme_(scheme), index_(index)
    {
    }

    std::uint32_t length() const { return plw_layout_length(tables_.get(), scheme_, index_); }
    std::string_view sample() const { return plw_layout_sample(tables_.get(), scheme_, index_); }

private:
    std::shared_ptr<const plw_tables> tables_;
    std::uint32_t scheme_;
    std::uint32_t index_;
};

class scheme
{
public:
    scheme(const tables &owner, std::uint32_t index);

    std::uint32_t index() const noexcept { return index_; }
    std::string_view key() const { return plw_scheme_key(tables_.get(), index_); }
    std::string_view title() const { return plw_scheme_title(tables_.get(), index_); }
    std::int32_t first_year() const { return plw_scheme_first_year(tables_.get(), index_); }
    std::int32_t last_year() const { return plw_scheme_last_year(tables_.get(), index_); }
    std::vector<row> rows() const;

    std::vector<layout> layouts() const
    {
        return detail::each(plw_layout_count(tables_.get(), index_),
                            [&](std::uint32_t i) { return layout(tables_, index_, i); });
    }

private:
    std::shared_ptr<const plw_tables> tables_;
    std::uint32_t index_;
};

// Schemes, rows and sources. A tables object that was made of nothing is the set
// that is compiled into the library.
class tables
{
public:
    tables() : tables_((detail::check_version(), plw_tables_builtin()), [](const plw_tables *) {})
    {
    }

    explicit tables(std::shared_ptr<const plw_tables> opened) : tables_(std::move(opened)) {}

    // An image that the table compiler wrote. The bytes are copied.
    static tables open(std::string_view image)
    {
        detail::check_version();
        auto kept = std::make_shared<std::vector<std::uint64_t>>(image.size() / 8 + 1);
        std::memcpy(kept->data(), detail::bytes(image), image.size());
        const plw_tables *opened = nullptr;
        detail::check(plw_tables_open(kept->data(), image.size(), 0, &opened));
        return tables(std::shared_ptr<const plw_tables>(kept, opened));
    }

    std::string_view edition() const { return plw_tables_edition(get()); }
    std::string digest() const { return detail::text(plw_tables_digest, get()); }

    std::vector<scheme> schemes() const
    {
        return detail::each(plw_scheme_count(get()),
                            [&](std::uint32_t i) { return scheme(*this, i); });
    }

    std::vector<source> sources() const
    {
        return detail::each(plw_source_count(get()),
                            [&](std::uint32_t i) { return source(*this, i); });
    }

    // What outputs for people must close with.
    std::vector<std::string_view> cautions() const
    {
        return detail::each(plw_caution_count(get()), [&](std::uint32_t i) {
            return std::string_view(plw_caution_text(get(), i));
        });
    }

    const plw_tables *get() const noexcept { return tables_.get(); }
    const std::shared_ptr<const plw_tables> &share() const noexcept { return tables_; }

private:
    std::shared_ptr<const plw_tables> tables_;
};

// One fact.
class row
{
public:
    row(const tables &owner, std::uint32_t index) : tables_(owner.share()), index_(index) {}

    std::uint32_t index() const noexcept { return index_; }
    platewright::scheme scheme() const
    {
        return platewright::scheme(tables(tables_), plw_row_scheme(get(), index_));
    }

    std::string key() const { return detail::text(plw_row_key, get(), index_); }
    std::string_view field() const { return plw_row_field(get(), index_); }
    std::string_view label() const { return plw_row_label(get(), index_); }
    std::string_view code() const { return plw_row_code(get(), index_); }
    std::string_view words() const { return plw_row_words(get(), index_); }
    std::string_view remark() const { return plw_row_remark(get(), index_); }
    std::string condition() const { return detail::text(plw_row_condition, get(), index_); }
    std::int32_t standing() const { return plw_row_standing(get(), index_); }
    std::uint32_t marks() const { return plw_row_marks(get(), index_); }
    bool holds_in(std::int32_t year) const { return plw_row_holds_in(get(), index_, year) != 0; }
    std::int32_t first_year() const { return plw_row_first_year(get(), index_); }
    std::int32_t last_year() const { return plw_row_last_year(get(), index_); }

    // What the row states for programs: names and values, numbers without unit.
    std::vector<std::pair<std::string_view, std::string>> attributes() const
    {
        return detail::each(plw_row_attribute_count(get(), index_), [&](std::uint32_t i) {
            return std::pair(std::string_view(plw_row_attribute_name(get(), index_, i)),
                             detail::text(plw_row_attribute_text, get(), index_, i));
        });
    }

    // In thousandths of the unit; nothing when the row does not state it.
    std::optional<std::int64_t> quantity(const std::string &name) const
    {
        std::int64_t thousandths = 0;
        const std::int32_t status = plw_row_quantity(get(), index_, name.c_str(), &thousandths);
        if (status == PLW_E_ABSENT)
            return std::nullopt;
        detail::check(status);
        return thousandths;
    }

    std::vector<source> sources() const
    {
        return detail::each(plw_row_source_count(get(), index_), [&](std::uint32_t i) {
            return source(tables(tables_), plw_row_source(get(), index_, i));
        });
    }

private:
    const plw_tables *get() const noexcept { return tables_.get(); }

    std::shared_ptr<const plw_tables> tables_;
    std::uint32_t index_;
};

inline source::source(const tables &owner, std::uint32_t index)
    : tables_(owner.share()), index_(index)
{
}

inline std::string_view source::key() const
{
    return plw_source_key(tables_.get(), index_);
}

inline std::string_view source::citation() const
{
    return plw_source_citation(tables_.get(), index_);
}

inline std::string_view source::address() const
{
    return plw_source_address(tables_.get(), index_);
}

inline scheme::scheme(const tables &owner, std::uint32_t index)
    : tables_(owner.share()), index_(index)
{
}

inline std::vector<row> scheme::rows() const
{
    const std::uint32_t first = plw_scheme_first_row(tables_.get(), index_);
    return detail::each(plw_scheme_row_count(tables_.get(), index_),
                        [&](std::uint32_t i) { return row(tables(tables_), first + i); });
}

// ---- Names: the host's own words -----------------------------------------

struct name_problem {
    std::uint32_t line; // from 1
    std::string text;
};

// A names object that was made of nothing leaves the words of the tables.
class names
{
public:
    names() = default;

    explicit names(std::string_view text, tables of = {}) : tables_(std::move(of))
    {
        plw_names *made = nullptr;
        detail::check(plw_names_new(tables_.get(), detail::bytes(text), text.size(), &made));
        names_.reset(made, plw_names_free);
    }

    std::vector<name_problem> problems() const
    {
        return detail::each(plw_names_problem_count(get()), [&](std::uint32_t i) {
            return name_problem{plw_names_problem_line(get(), i),
                                detail::text(plw_names_problem_text, get(), i)};
        });
    }

    std::string_view title(const scheme &of) const { return plw_names_title(get(), of.index()); }

    const plw_names *get() const noexcept { return names_.get(); }

private:
    tables tables_;
    std::shared_ptr<plw_names> names_;
};

// ---- Results ---------------------------------------------------------------

// What a call may be told beside the number. The views are read by the call only.
struct options {
    std::string_view hints;  // "maker=Ford; year=1970": they rank readings, they hide none
    std::string_view claims; // "engine=440 V8; body=convertible", as plw_check_claims(3) lists
    platewright::tables tables = {};
    platewright::names names = {};
};

namespace detail
{

// A native object with what it rests on.
template <class Native>
struct owned {
    platewright::tables tables;
    platewright::names names;
    std::unique_ptr<Native, void (*)(Native *)> native;
};

using owned_result = std::shared_ptr<const owned<plw_result>>;
using owned_car = std::shared_ptr<const owned<plw_car>>;

template <class Native>
std::shared_ptr<owned<Native>> make(const options &given, std::int32_t (*create)(Native **),
                                    void (*destroy)(Native *))
{
    Native *native = nullptr;
    check(create(&native));
    std::unique_ptr<Native, void (*)(Native *)> held(native, destroy);
    return std::make_shared<owned<Native>>(
        owned<Native>{given.tables, given.names, std::move(held)});
}

} // namespace detail

// A plw_result and the tables it was read with, wherever it lives.
class result_view
{
public:
    result_view(std::shared_ptr<const plw_result> native, platewright::tables with)
        : native_(std::move(native)), tables_(std::move(with))
    {
    }

    const plw_result *get() const noexcept { return native_.get(); }
    const platewright::tables &tables() const noexcept { return tables_; }

    platewright::row row(std::uint32_t index) const { return {tables_, index}; }

    std::optional<platewright::row> optional_row(std::uint32_t index) const
    {
        if (index == PLW_NONE)
            return std::nullopt;
        return row(index);
    }

private:
    std::shared_ptr<const plw_result> native_;
    platewright::tables tables_;
};

class field
{
public:
    field(result_view of, std::uint32_t reading, std::uint32_t index)
        : of_(std::move(of)), reading_(reading), index_(index)
    {
    }

    std::string_view name() const { return plw_field_name(of_.get(), reading_, index_); }
    std::string_view label() const { return plw_field_label(of_.get(), reading_, index_); }
    std::string code() const { return detail::text(plw_field_code, of_.get(), reading_, index_); }
    std::int32_t state() const { return plw_field_state(of_.get(), reading_, index_); }
    bool is_detail() const { return plw_field_is_detail(of_.get(), reading_, index_) != 0; }

    std::vector<std::uint32_t> positions() const
    {
        return detail::positions(plw_field_positions(of_.get(), reading_, index_));
    }

    std::vector<row> rows() const
    {
        return detail::each(plw_field_row_count(of_.get(), reading_, index_), [&](std::uint32_t i) {
            return of_.row(plw_field_row(of_.get(), reading_, index_, i));
        });
    }

    // The words of these rows, the host's own where there are some.
    std::vector<std::string_view> words() const
    {
        return detail::each(plw_field_row_count(of_.get(), reading_, index_), [&](std::uint32_t i) {
            return std::string_view(plw_field_words(of_.get(), reading_, index_, i));
        });
    }

    bool excludes_year(std::int32_t year) const
    {
        return plw_field_excludes_year(of_.get(), reading_, index_, year) != 0;
    }

private:
    result_view of_;
    std::uint32_t reading_;
    std::uint32_t index_;
};

// A character that a position can be, and the rows that are left for it.
struct possible {
    char32_t character;
    std::vector<row> rows;
};

class reading
{
public:
    reading(result_view of, std::uint32_t index) : of_(std::move(of)), index_(index) {}

    platewright::scheme scheme() const
    {
        return {of_.tables(), plw_reading_scheme(of_.get(), index_)};
    }

    std::string_view title() const { return plw_reading_title(of_.get(), index_); }
    std::string number() const { return detail::text(plw_reading_number, of_.get(), index_); }
    std::int32_t grade() const { return plw_reading_grade(of_.get(), index_); }

    std::vector<std::int32_t> years() const
    {
        return detail::each(plw_reading_year_count(of_.get(), index_), [&](std::uint32_t i) {
            return plw_reading_year(of_.get(), index_, i);
        });
    }

    // How the check character stands, and what it should be.
    std::int32_t check() const { return plw_reading_check(of_.get(), index_, nullptr); }

    std::optional<char32_t> expected_check() const
    {
        std::int32_t expected = 0;
        plw_reading_check(of_.get(), index_, &expected);
        return expected == 0 ? std::nullopt : std::optional(static_cast<char32_t>(expected));
    }

    std::vector<platewright::field> fields() const
    {
        return detail::each(plw_field_count(of_.get(), index_),
                            [&](std::uint32_t i) { return platewright::field(of_, index_, i); });
    }

    std::optional<platewright::field> field(std::string_view name) const
    {
        for (const auto &candidate : fields())
            if (candidate.name() == name)
                return candidate;
        return std::nullopt;
    }

    std::vector<possible> possibles(std::uint32_t position) const
    {
        const plw_result *result = of_.get();
        return detail::each(plw_possible_count(result, index_, position), [&](std::uint32_t i) {
            const auto rows = plw_possible_row_count(result, index_, position, i);
            return possible{
                static_cast<char32_t>(plw_possible_character(result, index_, position, i)),
                detail::each(rows, [&](std::uint32_t r) {
                    return of_.row(plw_possible_row(result, index_, position, i, r));
                })};
        });
    }

private:
    result_view of_;
    std::uint32_t index_;
};

class finding
{
public:
    finding(result_view of, std::uint32_t index) : of_(std::move(of)), index_(index) {}

    std::int32_t code() const { return plw_finding_code(of_.get(), index_); }
    std::string_view name() const { return plw_finding_name(of_.get(), index_); }
    std::int32_t grade() const { return plw_finding_grade(of_.get(), index_); }
    std::string sentence() const { return detail::text(plw_finding_sentence, of_.get(), index_); }

    // Index of the reading it speaks of; nothing when it speaks of the number.
    std::optional<std::uint32_t> reading() const
    {
        return detail::optional_index(plw_finding_reading(of_.get(), index_));
    }

    std::vector<std::uint32_t> positions() const
    {
        return detail::positions(plw_finding_positions(of_.get(), index_));
    }

private:
    result_view of_;
    std::uint32_t index_;
};

// Codes of a field that would leave only some of the model years.
class settling
{
public:
    settling(result_view of, std::uint32_t index) : of_(std::move(of)), index_(index) {}

    platewright::reading reading() const { return {of_, plw_settling_reading(of_.get(), index_)}; }

    platewright::field field() const
    {
        return {of_, plw_settling_reading(of_.get(), index_),
                plw_settling_field(of_.get(), index_)};
    }

    std::vector<std::int32_t> years() const
    {
        return detail::each(plw_settling_year_count(of_.get(), index_), [&](std::uint32_t i) {
            return plw_settling_year(of_.get(), index_, i);
        });
    }

    std::string codes() const { return detail::text(plw_settling_codes, of_.get(), index_); }

private:
    result_view of_;
    std::uint32_t index_;
};

// A nearby number that would hold: a guess, for somebody who can look again.
class suggestion
{
public:
    suggestion(result_view of, std::uint32_t index) : of_(std::move(of)), index_(index) {}

    std::string number() const { return detail::text(plw_suggestion_number, of_.get(), index_); }

    std::vector<std::uint32_t> positions() const
    {
        return detail::positions(plw_suggestion_positions(of_.get(), index_));
    }

    char32_t typed(std::uint32_t position) const
    {
        return static_cast<char32_t>(plw_suggestion_typed(of_.get(), index_, position));
    }

    char32_t meant(std::uint32_t position) const
    {
        return static_cast<char32_t>(plw_suggestion_meant(of_.get(), index_, position));
    }

    std::int32_t standing() const { return plw_suggestion_standing(of_.get(), index_); }
    std::int32_t grade() const { return plw_suggestion_grade(of_.get(), index_); }

    std::string sentence() const
    {
        return detail::text(plw_suggestion_sentence, of_.get(), index_);
    }

private:
    result_view of_;
    std::uint32_t index_;
};

// What was claimed, held against the number.
class claim
{
public:
    claim(result_view of, std::uint32_t index) : of_(std::move(of)), index_(index) {}

    std::string text() const { return detail::text(plw_claim_text, of_.get(), index_); }
    std::string value() const { return detail::text(plw_claim_value, of_.get(), index_); }
    std::string_view attribute() const { return plw_claim_attribute(of_.get(), index_); }
    std::int32_t verdict() const { return plw_claim_verdict(of_.get(), index_); }
    std::int32_t reason() const { return plw_claim_reason(of_.get(), index_); }
    std::string sentence() const { return detail::text(plw_claim_sentence, of_.get(), index_); }
    std::uint32_t marks() const { return plw_claim_marks(of_.get(), index_); }

    // Index of the best reading that supports it.
    std::optional<std::uint32_t> reading() const
    {
        return detail::optional_index(plw_claim_reading(of_.get(), index_));
    }

    std::vector<std::uint32_t> positions() const
    {
        return detail::positions(plw_claim_positions(of_.get(), index_));
    }

    std::vector<row> rows() const
    {
        return detail::each(plw_claim_row_count(of_.get(), index_), [&](std::uint32_t i) {
            return of_.row(plw_claim_row(of_.get(), index_, i));
        });
    }

    // The weakest of these rows; nothing where no row decides.
    std::optional<std::int32_t> standing() const
    {
        const std::int32_t standing = plw_claim_standing(of_.get(), index_);
        return standing == PLW_E_ABSENT ? std::nullopt : std::optional(standing);
    }

private:
    result_view of_;
    std::uint32_t index_;
};

// Where a position stands in the text as given, in bytes.
struct span {
    std::size_t offset;
    std::size_t length;
};

// All there is to say about one number.
class result
{
public:
    explicit result(result_view of) : of_(std::move(of)) {}

    const plw_result *get() const noexcept { return of_.get(); }
    const platewright::tables &tables() const noexcept { return of_.tables(); }

    std::string number() const { return detail::text(plw_result_number, get()); }
    std::int32_t grade() const { return plw_result_grade(get()); }
    std::uint32_t position_count() const { return plw_result_position_count(get()); }

    span position(std::uint32_t position) const
    {
        span found{};
        detail::check(plw_result_position(get(), position, &found.offset, &found.length));
        return found;
    }

    std::vector<reading> readings() const { return all<reading>(plw_reading_count(get())); }
    std::vector<finding> findings() const { return all<finding>(plw_finding_count(get())); }
    std::vector<claim> claims() const { return all<claim>(plw_claim_count(get())); }
    std::vector<settling> settlings() const { return all<settling>(plw_settling_count(get())); }

    std::vector<suggestion> suggestions() const
    {
        return all<suggestion>(plw_suggestion_count(get()));
    }

    std::uint32_t suggestions_left_out() const { return plw_suggestion_left_out(get()); }

    // format is PLW_FORMAT_, flags are PLW_EXPLAIN_.
    std::string explain(std::int32_t format = PLW_FORMAT_TEXT, std::uint32_t flags = 0) const
    {
        return detail::text(plw_explain, get(), format, flags);
    }

private:
    template <class Item>
    std::vector<Item> all(std::uint32_t count) const
    {
        return detail::each(count, [&](std::uint32_t i) { return Item(of_, i); });
    }

    result_view of_;
};

namespace detail
{

inline result_view view(const owned_result &held)
{
    return {std::shared_ptr<const plw_result>(held, held->native.get()), held->tables};
}

template <class Verb>
result read(Verb verb, std::string_view number, const options &given)
{
    const std::string zero_ended = hints(given.hints);
    const auto held = make<plw_result>(given, plw_result_new, plw_result_free);
    plw_result *native = held->native.get();
    check(plw_result_use_names(native, held->names.get()));
    check(verb(held->tables.get(), bytes(number), number.size(), zero_ended.c_str(), 0, native));
    check(plw_check_claims(native, bytes(given.claims), given.claims.size()));
    return result(view(held));
}

} // namespace detail

// ---- The verbs ---------------------------------------------------------------

// Every way to read the number, ranked.
inline result decode(std::string_view number, const options &given = {})
{
    return detail::read(plw_decode, number, given);
}

// The same, and all findings.
inline result validate(std::string_view number, const options &given = {})
{
    return detail::read(plw_validate, number, given);
}

// The same, and where the number does not hold, the nearest that would.
inline result suggest(std::string_view number, const options &given = {})
{
    return detail::read(plw_suggest, number, given);
}

inline std::string explain(std::string_view number, std::int32_t format = PLW_FORMAT_TEXT,
                           const options &given = {}, std::uint32_t flags = 0)
{
    return validate(number, given).explain(format, flags);
}

// Just the grade, without heap. Claims and names have no part in it.
inline std::int32_t grade(std::string_view number, const options &given = {})
{
    const std::string zero_ended = detail::hints(given.hints);
    std::int32_t found = 0;
    detail::check(plw_grade(given.tables.get(), detail::bytes(number), number.size(),
                            zero_ended.c_str(), 0, &found));
    return found;
}

// The verdict on one number of a batch.
struct batch_row {
    std::int32_t status; // PLW_OK, or why this number was not read
    std::int32_t grade;
    std::int32_t finding;                // the gravest, PLW_FINDING_, or 0
    std::optional<std::uint32_t> scheme; // index of the best reading's
    std::int32_t first_year;             // of the best reading, or 0
    std::int32_t last_year;
    std::int32_t readings;
    std::int32_t findings;
};

// Any range of what converts to std::string_view.
template <class Numbers>
std::vector<batch_row> batch(const Numbers &numbers, const options &given = {})
{
    const std::string zero_ended = detail::hints(given.hints);
    std::string text;
    std::vector<std::size_t> ends;
    for (const std::string_view number : numbers) {
        text.append(number);
        ends.push_back(text.size());
    }
    std::vector<std::int32_t> columns(ends.size() * PLW_BATCH_COLUMNS);
    detail::check(plw_batch(given.tables.get(), text.data(), ends.data(), ends.size(),
                            zero_ended.c_str(), 0, columns.data()));
    return detail::each(static_cast<std::uint32_t>(ends.size()), [&](std::uint32_t i) {
        const std::int32_t *row = columns.data() + std::size_t(i) * PLW_BATCH_COLUMNS;
        const std::int32_t scheme = row[PLW_BATCH_SCHEME];
        return batch_row{row[PLW_BATCH_STATUS],
                         row[PLW_BATCH_GRADE],
                         row[PLW_BATCH_FINDING],
                         scheme < 0 ? std::nullopt
                                    : std::optional(static_cast<std::uint32_t>(scheme)),
                         row[PLW_BATCH_FIRST_YEAR],
                         row[PLW_BATCH_LAST_YEAR],
                         row[PLW_BATCH_READINGS],
                         row[PLW_BATCH_FINDINGS]};
    });
}

// What the beginning of a number leaves open.
struct beginning {
    std::int32_t state; // PLW_PREFIX_
    std::vector<scheme> schemes;
    std::string allowed; // characters that can come next
    std::string known;   // those that lead on to what the tables list
    std::uint32_t remaining_min;
    std::uint32_t remaining_max;
};

inline beginning prefix(std::string_view text, const tables &with = {})
{
    options given;
    given.tables = with;
    const auto held = detail::make<plw_result>(given, plw_result_new, plw_result_free);
    plw_result *native = held->native.get();
    detail::check(plw_prefix(with.get(), detail::bytes(text), text.size(), 0, native));
    return {
        plw_prefix_state(native),
        detail::each(plw_prefix_scheme_count(native),
                     [&](std::uint32_t i) { return scheme(with, plw_prefix_scheme(native, i)); }),
        detail::text(plw_prefix_allowed, native),
        detail::text(plw_prefix_known, native),
        plw_prefix_remaining_min(native),
        plw_prefix_remaining_max(native)};
}

} // namespace platewright

#include "platewright_car.hpp"
#include "platewright_expect.hpp"

#endif
