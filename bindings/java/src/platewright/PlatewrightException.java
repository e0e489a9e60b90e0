// SPDX-License-Identifier: MIT
package platewright;

/** Whatever the library refuses. */
public class PlatewrightException extends RuntimeException {
    private static final long serialVersionUID = 1;
    private final String status;

    PlatewrightException(String message, String status) {
        super(message);
        this.status = status;
    }

    /** For every status but PLW_OK; no memory is Java's own error. */
    static PlatewrightException of(int status) {
        String name = Native.borrowed("plw_status_name", status);
        String message = Native.borrowed("plw_status_text", status) + " (" + name + ")";
        if (name.equals("PLW_E_MEMORY"))
            throw new OutOfMemoryError(message);
        return new PlatewrightException(message, name);
    }

    /** The name of the library's status, "PLW_E_HINT"; "" when there is no library. */
    public String status() {
        return status;
    }
}
