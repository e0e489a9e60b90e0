// SPDX-License-Identifier: MIT
package platewright;

import java.lang.reflect.ParameterizedType;
import java.lang.reflect.RecordComponent;
import java.lang.reflect.Type;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/**
 * Reads the JSON that the library writes into records. A component takes the member of its name
 * (excludesYears of excludes_years); other members are left out, so a later library can say more.
 */
final class Json {
    private final String text;
    private int at;

    private Json(String text) {
        this.text = text;
    }

    static <T extends Record> T read(String text, Class<T> type) {
        return type.cast(as(type, new Json(text).value()));
    }

    // ---- Text to maps, lists, strings, numbers --------------------------------------

    private char next() {
        while (Character.isWhitespace(text.charAt(at)))
            at++;
        return text.charAt(at);
    }

    private boolean taken(char mark) {
        if (next() != mark)
            return false;
        at++;
        return true;
    }

    private void expect(char mark) {
        if (!taken(mark))
            throw new IllegalArgumentException("no " + mark + " at " + at);
    }

    private Object value() {
        return switch (next()) {
            case '{' -> object();
            case '[' -> array();
            case '"' -> string();
            default -> word();
        };
    }

    private Map<String, Object> object() {
        Map<String, Object> members = new LinkedHashMap<>();
        expect('{');
        if (taken('}'))
            return members;
        do {
            next();
            String name = string();
            expect(':');
            members.put(name, value());
        } while (taken(','));
        expect('}');
        return members;
    }

    private List<Object> array() {
        List<Object> items = new ArrayList<>();
        expect('[');
        if (taken(']'))
            return items;
        do
            items.add(value());
        while (taken(','));
        expect(']');
        return items;
    }

    private String string() {
        StringBuilder found = new StringBuilder();
        expect('"');
        for (char c; (c = text.charAt(at++)) != '"'; )
            found.append(c == '\\' ? escape() : c);
        return found.toString();
    }

    private char escape() {
        char c = text.charAt(at++);
        switch (c) {
            case 'b': return '\b';
            case 'f': return '\f';
            case 'n': return '\n';
            case 'r': return '\r';
            case 't': return '\t';
            case 'u':
                at += 4;
                return (char) Integer.parseInt(text, at - 4, at, 16);
            default: return c;
        }
    }

    private Object word() {
        int start = at;
        while (at < text.length() && "+-.".indexOf(text.charAt(at)) >= 0
                || at < text.length() && Character.isLetterOrDigit(text.charAt(at)))
            at++;
        String word = text.substring(start, at);
        return switch (word) {
            case "null" -> null;
            case "true" -> true;
            case "false" -> false;
            default -> Double.valueOf(word);
        };
    }

    // ---- Maps to records ---------------------------------------------------------------

    private static Object as(Type type, Object value) {
        if (type instanceof ParameterizedType list && list.getRawType() == List.class)
            return listOf(list.getActualTypeArguments()[0], (List<?>) value);
        if (type instanceof Class<?> record && record.isRecord())
            return value == null ? null : recordOf(record, (Map<?, ?>) value);
        if (type == int.class)
            return value == null ? 0 : ((Double) value).intValue();
        if (type == Integer.class)
            return value == null ? null : ((Double) value).intValue();
        return type == boolean.class && value == null ? false : value;
    }

    private static List<Object> listOf(Type type, List<?> values) {
        List<Object> items = new ArrayList<>();
        if (values != null)
            values.forEach(value -> items.add(as(type, value)));
        return List.copyOf(items);
    }

    private static Object recordOf(Class<?> type, Map<?, ?> members) {
        RecordComponent[] components = type.getRecordComponents();
        Class<?>[] types = new Class<?>[components.length];
        Object[] values = new Object[components.length];
        for (int i = 0; i < components.length; i++) {
            types[i] = components[i].getType();
            values[i] = as(components[i].getGenericType(),
                    members.get(memberOf(components[i].getName())));
        }
        try {
            return type.getDeclaredConstructor(types).newInstance(values);
        } catch (ReflectiveOperationException thrown) {
            throw new IllegalStateException(thrown);
        }
    }

    private static String memberOf(String component) {
        return component.replaceAll("([A-Z])", "_$1").toLowerCase(Locale.ROOT);
    }
}
