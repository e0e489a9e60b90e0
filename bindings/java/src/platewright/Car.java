// SPDX-License-Identifier: MIT
package platewright;

import java.util.List;

/** What was found where on a car. */
public record Car(List<Plate> plates, List<Date> dates) {
    /** A place ("dash", "door_label", "engine") and the number as it stands there. */
    public record Plate(String place, String number) {}

    /** A kind ("casting", "assembly", "body_tag", "label") and the code as it stands there. */
    public record Date(String kind, String code) {}

    public static Car of(Plate... plates) {
        return new Car(List.of(plates), List.of());
    }
}
