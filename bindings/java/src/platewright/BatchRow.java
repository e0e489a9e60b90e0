// SPDX-License-Identifier: MIT
package platewright;

import jdk.incubator.foreign.MemoryAccess;
import jdk.incubator.foreign.MemoryAddress;
import jdk.incubator.foreign.MemorySegment;

/**
 * The verdict on one number of a batch.
 *
 * @param status why this number was not read, "PLW_E_TOO_LONG", the rest is then empty; or "PLW_OK"
 * @param finding name of the gravest finding, or null
 * @param scheme key of the best reading's scheme, or null
 * @param firstYear of the best reading, or 0
 */
public record BatchRow(String status, String grade, String finding, String scheme, int firstYear,
        int lastYear, int readings, int findings) {

    static BatchRow of(MemoryAddress tables, MemorySegment row) {
        int status = column(row, "STATUS");
        int finding = column(row, "FINDING");
        int scheme = column(row, "SCHEME");
        if (status != 0)
            return new BatchRow(Native.borrowed("plw_status_name", status), null, null, null, 0, 0,
                    0, 0);
        return new BatchRow(Native.borrowed("plw_status_name", status),
                Native.borrowed("plw_grade_name", column(row, "GRADE")),
                finding == 0 ? null : Native.nameOf("PLW_FINDING_", finding),
                scheme < 0 ? null : Native.borrowed("plw_scheme_key", tables, scheme),
                column(row, "FIRST_YEAR"), column(row, "LAST_YEAR"), column(row, "READINGS"),
                column(row, "FINDINGS"));
    }

    private static int column(MemorySegment row, String name) {
        return MemoryAccess.getIntAtIndex(row, Native.constant("PLW_BATCH_" + name));
    }
}
