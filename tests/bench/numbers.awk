# SPDX-License-Identifier: MIT
#
# Invented numbers of the scheme that fixed.awk reads: mawk -v count=N -f numbers.awk

function one_of(text) { return substr(text, 1 + int(rand() * length(text)), 1) }

# Characters of one model year, so that most numbers hold.
BEGIN {
    srand(1)
    count_of_bodies = split("21 23 27 29 41 43 45", bodies)
    for (i = 0; i < count; i++)
        print one_of("BVLRWXPDCY") one_of("LMHPS") bodies[1 + int(rand() * count_of_bodies)] \
            one_of("BCGHLNRUV") "0" one_of("ABCDEFGR") \
            sprintf("%06d", 100001 + int(rand() * 200000))
}
