// SPDX-License-Identifier: MIT
package platewright;

/** The library is missing or of another release. */
public final class LibraryException extends PlatewrightException {
    private static final long serialVersionUID = 1;

    LibraryException(String message) {
        super(message, "");
    }
}
