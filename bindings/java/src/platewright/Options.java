// SPDX-License-Identifier: MIT
package platewright;

/**
 * What a call may be told beside the number; null is none.
 *
 * @param hints "maker=Ford; year=1970": they rank readings and hide none
 * @param claims "engine=440 V8; body=convertible", as plw_check_claims(3) lists
 * @param sources list the sources in full
 * @param tables in place of the compiled-in tables
 * @param names in place of the words of the tables
 */
public record Options(String hints, String claims, boolean sources, Tables tables, Names names) {
    public static final Options NONE = new Options(null, null, false, null, null);

    public Options withHints(String hints) {
        return new Options(hints, claims, sources, tables, names);
    }

    public Options withClaims(String claims) {
        return new Options(hints, claims, sources, tables, names);
    }

    public Options withSources() {
        return new Options(hints, claims, true, tables, names);
    }

    public Options withTables(Tables tables) {
        return new Options(hints, claims, sources, tables, names);
    }

    public Options withNames(Names names) {
        return new Options(hints, claims, sources, tables, names);
    }
}
