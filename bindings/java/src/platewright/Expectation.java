// SPDX-License-Identifier: MIT
package platewright;

import java.util.List;

/** The patterns of the numbers that could bear claims, in the form of the library's JSON. */
public record Expectation(String summary, List<Claim> claims, List<Pattern> patterns,
        boolean capped, List<Result.Source> sources, Tables.Identity tables, String library,
        List<String> cautions) {

    /**
     * A claim as given.
     *
     * @param rulesOut it is why there is no pattern
     * @param leftWithout without it something would be left
     */
    public record Claim(String text, String attribute, boolean understood, boolean rulesOut,
            boolean leftWithout) {}

    /**
     * A pattern, which decode takes.
     *
     * @param range the running numbers that the tables know for it, or ""
     * @param tells indices of the claims that it tells
     * @param open indices of those that it leaves open
     */
    public record Pattern(String pattern, String scheme, String title, int length,
            List<Integer> years, String range, List<Integer> tells, List<Integer> open,
            List<Comparison.Row> rows, boolean moreRows, String sentence) {}
}
