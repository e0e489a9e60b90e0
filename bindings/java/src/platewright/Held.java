// SPDX-License-Identifier: MIT
package platewright;

import java.lang.ref.Cleaner;
import jdk.incubator.foreign.ResourceScope;

/** Memory that threads share until it is closed, or the garbage collector finds it. */
abstract class Held implements AutoCloseable {
    private static final Cleaner CLEANER = Cleaner.create();
    private final ResourceScope scope = ResourceScope.newSharedScope(CLEANER);

    final ResourceScope scope() {
        return scope;
    }

    /** Keeps it open until the other scope is closed. */
    void keepOpen(ResourceScope user) {
        ResourceScope.Handle handle;
        try {
            handle = scope.acquire();
        } catch (IllegalStateException closed) {
            throw new IllegalStateException("these tables or names are closed", closed);
        }
        user.addCloseAction(() -> scope.release(handle));
    }

    /** Frees the memory at once. While a call uses it this is an IllegalStateException. */
    @Override
    public void close() {
        if (scope.isAlive())
            scope.close();
    }
}
