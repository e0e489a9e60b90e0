// SPDX-License-Identifier: MIT
//
// Platewright for C++17: the plates and dates of one car, held against each
// other. Included by platewright.hpp, which says what holds for all.

#ifndef PLATEWRIGHT_CAR_HPP
#define PLATEWRIGHT_CAR_HPP

#include "platewright.hpp"

namespace platewright
{

// What was found where: PLW_PLACE_ and the number as it stands there.
struct found_plate {
    std::int32_t place;
    std::string_view number;
};

// PLW_DATE_ and the date code as it stands on the part.
struct found_date {
    std::int32_t kind;
    std::string_view code;
};

// Days as YYYYMMDD.
struct days {
    std::int32_t first;
    std::int32_t last;
};

// A compared plw_car, wherever it lives, with its result.
class car_view
{
public:
    explicit car_view(detail::owned_car held) : held_(std::move(held)) {}

    const plw_car *get() const noexcept { return held_->native.get(); }

    result_view result() const
    {
        return {std::shared_ptr<const plw_result>(held_, plw_car_result(get())), held_->tables};
    }

    std::vector<row> rows(std::uint32_t count,
                          std::uint32_t (*at)(const plw_car *, std::uint32_t, std::uint32_t),
                          std::uint32_t index) const
    {
        return detail::each(
            count, [&](std::uint32_t i) { return row(held_->tables, at(get(), index, i)); });
    }

private:
    detail::owned_car held_;
};

class plate
{
public:
    plate(car_view of, std::uint32_t index) : of_(std::move(of)), index_(index) {}

    std::int32_t place() const { return plw_plate_place(of_.get(), index_); }
    std::string number() const { return detail::text(plw_plate_number, of_.get(), index_); }
    std::int32_t taken() const { return plw_plate_taken(of_.get(), index_); }
    std::int32_t verdict() const { return plw_plate_verdict(of_.get(), index_); }
    std::string sentence() const { return detail::text(plw_plate_sentence, of_.get(), index_); }

    // What tells which part it repeats, or why it is not expected.
    std::optional<platewright::row> row() const
    {
        return of_.result().optional_row(plw_plate_row(of_.get(), index_));
    }

    // Of the full number, and what the plate shows there.
    std::vector<std::uint32_t> positions() const
    {
        return detail::positions(plw_plate_positions(of_.get(), index_));
    }

    std::string shows(std::uint32_t position) const
    {
        return detail::text(plw_plate_shows, of_.get(), index_, position);
    }

    // Positions that can be read on both, and those of them that differ.
    std::vector<std::uint32_t> compared(std::uint32_t other) const
    {
        return detail::positions(plw_plate_compared(of_.get(), index_, other));
    }

    std::vector<std::uint32_t> differs(std::uint32_t other) const
    {
        return detail::positions(plw_plate_differs(of_.get(), index_, other));
    }

private:
    car_view of_;
    std::uint32_t index_;
};

class date
{
public:
    date(car_view of, std::uint32_t index) : of_(std::move(of)), index_(index) {}

    std::int32_t kind() const { return plw_date_kind(of_.get(), index_); }
    std::string text() const { return detail::text(plw_date_text, of_.get(), index_); }
    std::int32_t verdict() const { return plw_date_verdict(of_.get(), index_); }
    std::int32_t reason() const { return plw_date_reason(of_.get(), index_); }
    std::int32_t grade() const { return plw_date_grade(of_.get(), index_); }
    std::string sentence() const { return detail::text(plw_date_sentence, of_.get(), index_); }
    bool capped() const { return plw_date_capped(of_.get(), index_) != 0; }

    // The days it can mean.
    std::vector<days> spans() const
    {
        return detail::each(plw_date_span_count(of_.get(), index_), [&](std::uint32_t i) {
            return days{plw_date_span_first(of_.get(), index_, i),
                        plw_date_span_last(of_.get(), index_, i)};
        });
    }

    // How such dates are written, and the rule of thumb for an early one.
    std::optional<platewright::row> row() const
    {
        return of_.result().optional_row(plw_date_row(of_.get(), index_));
    }

    std::optional<platewright::row> rule() const
    {
        return of_.result().optional_row(plw_date_rule(of_.get(), index_));
    }

    // Index of the other date that the verdict rests on.
    std::optional<std::uint32_t> against() const
    {
        return detail::optional_index(plw_date_against(of_.get(), index_));
    }

private:
    car_view of_;
    std::uint32_t index_;
};

// A character that plates show where others show another.
class difference
{
public:
    difference(car_view of, std::uint32_t index) : of_(std::move(of)), index_(index) {}

    std::uint32_t position() const { return plw_difference_position(of_.get(), index_); }
    std::string shows() const { return detail::text(plw_difference_shows, of_.get(), index_); }

    // Indices of the plates that show it.
    std::vector<std::uint32_t> plates() const
    {
        return detail::members(plw_difference_plates(of_.get(), index_), 0);
    }

    std::vector<std::int32_t> years() const
    {
        return detail::each(plw_difference_year_count(of_.get(), index_), [&](std::uint32_t i) {
            return plw_difference_year(of_.get(), index_, i);
        });
    }

    std::vector<row> rows() const
    {
        return of_.rows(plw_difference_row_count(of_.get(), index_), plw_difference_row, index_);
    }

    std::string sentence() const
    {
        return detail::text(plw_difference_sentence, of_.get(), index_);
    }

private:
    car_view of_;
    std::uint32_t index_;
};

// A place where the tables expect the number and nothing was given.
struct missing {
    std::int32_t place;
    platewright::row row;
    std::string sentence;
};

// What the plates say together.
struct joined {
    platewright::scheme scheme;
    std::string number;
};

// All there is to say about the plates and dates of one car.
class comparison
{
public:
    explicit comparison(car_view of) : of_(std::move(of)) {}

    const plw_car *get() const noexcept { return of_.get(); }

    std::int32_t verdict() const { return plw_car_verdict(get()); }
    std::vector<plate> plates() const { return all<plate>(plw_plate_count(get())); }

    std::vector<difference> differences() const
    {
        return all<difference>(plw_difference_count(get()));
    }

    std::vector<platewright::missing> missing() const
    {
        return detail::each(plw_missing_count(get()), [&](std::uint32_t i) {
            return platewright::missing{plw_missing_place(get(), i),
                                        of_.result().row(plw_missing_row(get(), i)),
                                        detail::text(plw_missing_sentence, get(), i)};
        });
    }

    std::vector<platewright::joined> joined() const
    {
        return detail::each(plw_joined_count(get()), [&](std::uint32_t i) {
            return platewright::joined{scheme(of_.result().tables(), plw_joined_scheme(get(), i)),
                                       detail::text(plw_joined_number, get(), i)};
        });
    }

    bool joined_capped() const { return plw_joined_capped(get()) != 0; }

    // Days between which the car can have been built, if its model year is known.
    std::optional<days> built() const
    {
        const days found{plw_car_built_first(get()), plw_car_built_last(get())};
        return found.first == 0 ? std::nullopt : std::optional(found);
    }

    std::int32_t date_verdict() const { return plw_car_date_verdict(get()); }
    std::vector<date> dates() const { return all<date>(plw_date_count(get())); }

    // What to look at next.
    std::vector<std::string> advice() const
    {
        return detail::each(plw_advice_count(get()), [&](std::uint32_t i) {
            return detail::text(plw_advice_sentence, get(), i);
        });
    }

    // The first joined number decoded, and the reading of it that all rests on.
    platewright::result result() const { return platewright::result(of_.result()); }

    std::optional<platewright::reading> reading() const
    {
        const auto index = plw_car_reading(get());
        if (index == PLW_NONE)
            return std::nullopt;
        return platewright::reading(of_.result(), index);
    }

    std::string explain(std::int32_t format = PLW_FORMAT_TEXT, std::uint32_t flags = 0) const
    {
        return detail::text(plw_explain_car, get(), format, flags);
    }

private:
    template <class Item>
    std::vector<Item> all(std::uint32_t count) const
    {
        return detail::each(count, [&](std::uint32_t i) { return Item(of_, i); });
    }

    car_view of_;
};

inline comparison compare(const std::vector<found_plate> &plates,
                          const std::vector<found_date> &dates = {}, const options &given = {})
{
    const std::string zero_ended = detail::hints(given.hints);
    const auto held = detail::make<plw_car>(given, plw_car_new, plw_car_free);
    plw_car *native = held->native.get();
    detail::check(plw_car_use_names(native, held->names.get()));
    for (const auto &[place, number] : plates)
        detail::check(plw_car_add_plate(native, place, detail::bytes(number), number.size()));
    for (const auto &[kind, code] : dates)
        detail::check(plw_car_add_date(native, kind, detail::bytes(code), code.size()));
    detail::check(plw_compare(held->tables.get(), native, zero_ended.c_str(), 0));
    detail::check(plw_car_check_claims(native, detail::bytes(given.claims), given.claims.size()));
    return comparison(car_view(held));
}

} // namespace platewright

#endif
