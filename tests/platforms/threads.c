/* SPDX-License-Identifier: MIT
 *
 * Threads that share tables and names, each with its own result and car, and get
 * the same answers. Made for the thread sanitizer, which sees what they share.
 */
#include <pthread.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <platewright.h>

#define THREADS 8
#define ROUNDS 10

static const char *const numbers[] = { "3Y86N400001", "RM23V0A149789", "1G4AH59H45G118341",
                                       "RM23UOA174567", "?????????????", "124379N500001" };
static plw_names *names;

static uint64_t digest_of(const char *text, uint64_t digest)
{
    for (; *text; text++)
        digest = (digest ^ (unsigned char)*text) * UINT64_C(0x100000001B3);
    return digest;
}

static uint64_t answers(const char *number, plw_result *result, plw_car *car, char *text,
                        size_t room)
{
    uint64_t digest = 7;
    size_t length = strlen(number);
    plw_result_use_names(result, names);
    plw_suggest(NULL, number, length, NULL, 0, result);
    plw_check_claims(result, "year=1968", 9);
    for (int32_t format = PLW_FORMAT_TEXT; format <= PLW_FORMAT_HTML; format++) {
        if (plw_explain(result, format, 0, text, room, NULL) != PLW_OK)
            abort();
        digest = digest_of(text, digest);
    }
    plw_car_clear(car);
    plw_car_add_plate(car, PLW_PLACE_DASH, number, length);
    plw_compare(NULL, car, NULL, 0);
    if (plw_explain_car(car, PLW_FORMAT_JSON, 0, text, room, NULL) != PLW_OK)
        abort();
    return digest_of(text, digest);
}

static void *work(void *sum)
{
    static const size_t room = 1 << 20;
    char *text = malloc(room);
    plw_result *result;
    plw_car *car;
    if (text == NULL || plw_result_new(&result) != PLW_OK || plw_car_new(&car) != PLW_OK)
        abort();
    for (int round = 0; round < ROUNDS; round++) {
        uint64_t digest = 0;
        for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++)
            digest ^= answers(numbers[i], result, car, text, room) << i;
        if (round > 0 && digest != *(uint64_t *)sum)
            abort();
        *(uint64_t *)sum = digest;
    }
    plw_car_free(car);
    plw_result_free(result);
    free(text);
    return NULL;
}

int main(void)
{
    static const char words[] = "field/engine = Motor\n";
    pthread_t threads[THREADS];
    uint64_t sums[THREADS];
    if (plw_names_new(NULL, words, sizeof words - 1, &names) != PLW_OK)
        return 1;
    for (int i = 0; i < THREADS; i++) {
        if (pthread_create(&threads[i], NULL, work, &sums[i]) != 0)
            return 1;
    }
    for (int i = 0; i < THREADS; i++)
        pthread_join(threads[i], NULL);
    for (int i = 1; i < THREADS; i++) {
        if (sums[i] != sums[0])
            return 1;
    }
    plw_names_free(names);
    puts("every thread has the same answers");
    return 0;
}
