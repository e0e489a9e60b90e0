// SPDX-License-Identifier: MIT
package platewright;

import java.util.List;

/** All there is to say about the plates and dates of one car, in the form of the library's JSON. */
public record Comparison(String verdict, String summary, List<Plate> plates,
        List<Difference> differences, List<Missing> expectedNotGiven, String dateVerdict, Days built,
        List<Date> dates, List<Joined> joined, boolean joinedCapped, Reading reading,
        List<Result.Finding> findings, List<Result.Claim> claims, List<String> next,
        List<Result.Source> sources, Tables.Identity tables, String library,
        List<String> cautions) {

    /** One plate, held against the others. */
    public record Plate(String place, String label, String number, String taken, Row row,
            List<Integer> positions, List<String> shows, String verdict, List<Integer> agreesWith,
            List<Differs> differsFrom, String sentence) {}

    /** Positions at which a plate differs from another, which is an index. */
    public record Differs(int plate, List<Integer> positions) {}

    /** A row of the tables that a comparison names. */
    public record Row(String key, String words, String standing, List<String> sources) {}

    /** A character that plates show where others show another. */
    public record Difference(int position, String shows, List<Integer> plates, List<Integer> years,
            List<Row> rows, String sentence) {}

    /** A place where the tables expect the number and nothing was given. */
    public record Missing(String place, String label, Row row, String sentence) {}

    /** A run of days, "1966-03-21". */
    public record Days(String first, String last) {}

    /** One date code, held against the car; against is the index of another date. */
    public record Date(String kind, String label, String text, List<Days> days, boolean daysCapped,
            String verdict, String reason, String grade, Row row, Row rule, Integer against,
            String sentence) {}

    /** What the plates say together. */
    public record Joined(String scheme, String title, String number) {}

    /** The reading that the comparison rests on. */
    public record Reading(String scheme, String title, String number, List<Integer> years) {}
}
