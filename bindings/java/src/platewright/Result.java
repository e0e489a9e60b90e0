// SPDX-License-Identifier: MIT
package platewright;

import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * All there is to say about one number. Its form is the library's JSON, of which a JSON Schema is
 * installed; what may be absent there is null or an empty list here.
 */
public record Result(String number, int positions, String grade, List<Reading> readings,
        List<Settling> settling, List<Finding> findings, List<Claim> claims,
        List<Suggestion> suggestions, int suggestionsLeftOut, List<Source> sources,
        Tables.Identity tables, String library, List<String> cautions) {

    /** One way to read the number; no years when the fields exclude each other. */
    public record Reading(String scheme, String title, String number, String grade,
            List<Integer> years, List<Field> fields, Check check) {

        /** The first field of that name. */
        public Optional<Field> field(String name) {
            return fields.stream().filter(field -> field.field().equals(name)).findFirst();
        }
    }

    /** How the check character stands, and what it should be. */
    public record Check(String state, String expected) {}

    /** A named span of positions, which count from 1. */
    public record Field(String field, String label, List<Integer> positions, String code,
            String state, boolean detail, List<Meaning> meanings, List<Integer> excludesYears) {}

    /** A row of the tables: what a code means, and how sure that is. */
    public record Meaning(String key, String words, String remark, String condition,
            List<List<Integer>> years, String standing, List<String> marks,
            Map<String, Object> attributes, Double displacementCc, Double displacementCuIn,
            List<String> sources) {}

    /** Codes of a field that would leave only these model years. */
    public record Settling(int reading, List<Integer> years, String field, String label,
            List<Integer> positions, List<String> codes) {}

    /** Something validation has to say; reading is null when it speaks of the number. */
    public record Finding(String code, int number, String grade, Integer reading,
            List<Integer> positions, String sentence) {}

    /** What was claimed, held against the number. */
    public record Claim(String claim, String attribute, String value, String verdict, String reason,
            Integer reading, List<Integer> positions, List<String> rows, String standing,
            List<String> marks, String sentence) {}

    /** A nearby number that would hold: a guess. */
    public record Suggestion(String number, String grade, String standing, List<Change> changes,
            String sentence) {}

    /** A character that a suggestion has in place of the one that was typed. */
    public record Change(int position, String typed, String meant) {}

    /** A citable publication. */
    public record Source(String key, String citation, String address) {}
}
