// SPDX-License-Identifier: MIT
//
// Platewright for C++17: from claims to the numbers that could bear them. Included
// by platewright.hpp, which says what holds for all.

#ifndef PLATEWRIGHT_EXPECT_HPP
#define PLATEWRIGHT_EXPECT_HPP

#include "platewright.hpp"

namespace platewright
{

namespace detail
{

using owned_expectation = std::shared_ptr<const owned<plw_expectation>>;

} // namespace detail

// A pattern of numbers, which decode takes.
class pattern
{
public:
    pattern(detail::owned_expectation of, std::uint32_t index) : of_(std::move(of)), index_(index)
    {
    }

    std::string text() const { return detail::text(plw_pattern_text, get(), index_); }
    std::string sentence() const { return detail::text(plw_pattern_sentence, get(), index_); }
    std::uint32_t marks() const { return plw_pattern_marks(get(), index_); }

    // The running numbers that the tables know for it, or "".
    std::string range() const { return detail::text(plw_pattern_range, get(), index_); }

    platewright::scheme scheme() const { return {of_->tables, plw_pattern_scheme(get(), index_)}; }

    platewright::layout layout() const
    {
        return {of_->tables.share(), plw_pattern_scheme(get(), index_),
                plw_pattern_layout(get(), index_)};
    }

    // The model years for which it was made.
    std::vector<std::int32_t> years() const
    {
        return detail::each(plw_pattern_year_count(get(), index_),
                            [&](std::uint32_t i) { return plw_pattern_year(get(), index_, i); });
    }

    // Whether it tells the claim of this index, or leaves it open.
    bool tells(std::uint32_t claim) const { return plw_pattern_tells(get(), index_, claim) != 0; }

    std::vector<row> rows() const
    {
        return detail::each(plw_pattern_row_count(get(), index_), [&](std::uint32_t i) {
            return row(of_->tables, plw_pattern_row(get(), index_, i));
        });
    }

    // The weakest of all rows; nothing where there is none.
    std::optional<std::int32_t> standing() const
    {
        const std::int32_t standing = plw_pattern_standing(get(), index_);
        return standing == PLW_E_ABSENT ? std::nullopt : std::optional(standing);
    }

private:
    const plw_expectation *get() const noexcept { return of_->native.get(); }

    detail::owned_expectation of_;
    std::uint32_t index_;
};

// A claim as given.
struct expected_claim {
    std::string text;
    std::string_view attribute;
    bool understood;
    bool rules_out;    // it is why there is no pattern
    bool left_without; // without it something would be left
};

// The patterns of the numbers that could bear claims.
class expectation
{
public:
    explicit expectation(detail::owned_expectation of) : of_(std::move(of)) {}

    const plw_expectation *get() const noexcept { return of_->native.get(); }

    std::string sentence() const { return detail::text(plw_expectation_sentence, get()); }
    bool capped() const { return plw_expectation_capped(get()) != 0; }

    std::vector<pattern> patterns() const
    {
        return detail::each(plw_pattern_count(get()),
                            [&](std::uint32_t i) { return pattern(of_, i); });
    }

    std::vector<expected_claim> claims() const
    {
        return detail::each(plw_expectation_claim_count(get()), [&](std::uint32_t i) {
            return expected_claim{detail::text(plw_expectation_claim_text, get(), i),
                                  plw_expectation_claim_attribute(get(), i),
                                  plw_expectation_understands(get(), i) != 0,
                                  plw_expectation_rules_out(get(), i) != 0,
                                  plw_expectation_left_without(get(), i) != 0};
        });
    }

    std::string explain(std::int32_t format = PLW_FORMAT_TEXT, std::uint32_t flags = 0) const
    {
        return detail::text(plw_explain_expectation, get(), format, flags);
    }

private:
    detail::owned_expectation of_;
};

// Claims in the options have no part in it.
inline expectation expect(std::string_view claims, const options &given = {})
{
    const std::string zero_ended = detail::hints(given.hints);
    const auto held =
        detail::make<plw_expectation>(given, plw_expectation_new, plw_expectation_free);
    plw_expectation *native = held->native.get();
    detail::check(plw_expectation_use_names(native, held->names.get()));
    detail::check(plw_expect(held->tables.get(), detail::bytes(claims), claims.size(),
                             zero_ended.c_str(), 0, native));
    return expectation(held);
}

// Whether a pattern covers a number; nothing where unreadable characters decide.
inline std::optional<bool> covers(std::string_view pattern, std::string_view number)
{
    std::int32_t covered = PLW_COVERED_NOT;
    detail::check(plw_pattern_covers(detail::bytes(pattern), pattern.size(), detail::bytes(number),
                                     number.size(), &covered, nullptr));
    return covered == PLW_COVERED_OPEN ? std::nullopt : std::optional(covered == PLW_COVERED);
}

} // namespace platewright

#endif
