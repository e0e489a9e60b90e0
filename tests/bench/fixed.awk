# SPDX-License-Identifier: MIT
#
# What the client is measured against: numbers of one scheme cut at fixed places and
# looked up in arrays, without years, conditions or checks.
#   mawk -f fixed.awk SCHEME-FILE NUMBERS

# The first file: the code and the words of each row.
FNR == NR && /^\[/ { field = substr($1, 2, length($1) - 2) }
FNR == NR && !/^(#|\[|$)/ { words[field, $1] = substr($0, length($0) - 24) }
FNR == NR { next }

{
    print $1 "\t" words["line", substr($1, 1, 1)] "\t" words["price_class", substr($1, 2, 1)] \
        "\t" words["body", substr($1, 3, 2)] "\t" words["engine", substr($1, 5, 1)] \
        "\t" words["year", substr($1, 6, 1)] "\t" words["plant", substr($1, 7, 1)] \
        "\t" substr($1, 8)
}
