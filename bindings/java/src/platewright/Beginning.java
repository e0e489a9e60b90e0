// SPDX-License-Identifier: MIT
package platewright;

import java.util.List;

/**
 * What the beginning of a number leaves open.
 *
 * @param state "impossible", "open" or "complete"
 * @param schemes keys of those it can belong to
 * @param allowed characters that can come next
 * @param known those of them that lead on to what the tables list
 * @param remainingMin characters still to come
 */
public record Beginning(String state, List<String> schemes, String allowed, String known,
        int remainingMin, int remainingMax) {}
