/*
 * Goes through the words that are multiples of STRIDE, from FROM up to but not
 * including TO, and prints a checksum of what the macros of the Linux kernel's
 * headers make of them, one line for each entry of layouts.h:
 *
 *   LAYOUT CHECKSUM IGNORED FIELD/BITS...
 *
 * CHECKSUM and IGNORED are hexadecimal; the bits IGNORED are taken as zero in
 * every word. BITS is how many low bits of the field count. The checksum is the
 * sum over the words of mix(word, fields).
 *
 * Usage: checksum STRIDE FROM TO. With FROM and TO 0 it prints what it would
 * compare.
 *
 * A macro that only composes words is turned round: each bit of each field is
 * composed alone to see where it lands; the fields of a word are then taken from
 * there, and composed again by the macro, for every word.
 */
#include <stdio.h>
#include <stdlib.h>

#include "layouts.h"

typedef uint64_t u64;

static u64 stride, from, to;
static u64 factor[MAX_FIELDS + 1];

/* splitmix64: odd factors without a pattern, the same ones in the Go test. */
static void factors(void)
{
	unsigned int i;
	u64 z;

	for (i = 0; i <= MAX_FIELDS; i++) {
		z = (i + 1) * UINT64_C(0x9e3779b97f4a7c15);
		z = (z ^ z >> 30) * UINT64_C(0xbf58476d1ce4e5b9);
		z = (z ^ z >> 27) * UINT64_C(0x94d049bb133111eb);
		factor[i] = (z ^ z >> 31) | 1;
	}
}

/*
 * The functions below are expanded for each layout, with all loops over fields
 * unrolled, so that the compiler sees the macro and the word together.
 */
#define EXPANDED static inline __attribute__((always_inline))
#define FOR_FIELDS(i) _Pragma("GCC unroll 14") for (i = 0; i < MAX_FIELDS; i++)

/* Which number in which field of which word: any change changes the result. */
EXPANDED u64 mix(u32 w, const u32 *v)
{
	u64 h = w * factor[MAX_FIELDS];
	int i;

	FOR_FIELDS(i)
		h += v[i] * factor[i];
	h = (h ^ h >> 32) * UINT64_C(0xd6e8feb86659fd93);
	return h ^ h >> 29;
}

EXPANDED void composed(const struct layout *l)
{
	u32 v[MAX_FIELDS] = { 0 }, covered = 0, one;
	int shift[MAX_FIELDS] = { 0 }, i, bit;
	u64 at, sum = 0;

	for (i = 0; i < MAX_FIELDS && l->f[i].name; i++) {
		for (bit = 0; bit < l->f[i].bits; bit++) {
			v[i] = UINT32_C(1) << bit;
			one = l->compose(v);
			v[i] = 0;
			if (!one || (one & (one - 1)) || (one & covered)) {
				fprintf(stderr, "%s %s: bit %d lands in %08x\n", l->name, l->f[i].name, bit, one);
				exit(1);
			}
			covered |= one;
			if (bit == 0)
				shift[i] = __builtin_ctz(one);
			else if (__builtin_ctz(one) != shift[i] + bit) {
				fprintf(stderr, "%s %s: bit %d lands out of order\n", l->name, l->f[i].name, bit);
				exit(1);
			}
		}
	}
	for (at = from; at < to; at += stride) {
		u32 w = at, v[MAX_FIELDS];

		FOR_FIELDS(i)
			v[i] = l->f[i].name ? w >> shift[i] & most(&l->f[i]) : 0;
		if (l->compose(v) != (w & covered)) {
			fprintf(stderr, "%s: the fields of %08x compose %08x\n", l->name, w, l->compose(v));
			exit(1);
		}
		sum += mix(w, v);
	}
	printf("%s %016llx 0", l->name, (unsigned long long)sum);
	for (i = 0; i < MAX_FIELDS && l->f[i].name; i++)
		printf(" %s/%d", l->f[i].name, l->f[i].bits);
	putchar('\n');
}

EXPANDED void extracted(const struct extractor *x)
{
	u64 at, sum = 0;
	int i;

	for (at = from; at < to; at += stride) {
		u32 w = at & ~x->unknown, v[MAX_FIELDS] = { 0 };

		x->extract(w, v);
		sum += mix(w, v);
	}
	printf("%s %016llx %x", x->name, (unsigned long long)sum, x->unknown);
	for (i = 0; i < MAX_FIELDS && x->field[i]; i++)
		printf(" %s/32", x->field[i]);
	putchar('\n');
}

#define EACH(X) \
	X(0) X(1) X(2) X(3) X(4) X(5) X(6) X(7) X(8) X(9) X(10) X(11) X(12) X(13) X(14) X(15) X(16) X(17) X(18) X(19)
_Static_assert(COUNT(layouts) <= 20 && COUNT(extractors) <= 20, "EACH is too short");

#define COMPOSED(i)                                                               \
	if (i < COUNT(layouts))                                                   \
		composed(&layouts[i < COUNT(layouts) ? i : 0]);
#define EXTRACTED(i)                                                              \
	if (i < COUNT(extractors))                                                \
		extracted(&extractors[i < COUNT(extractors) ? i : 0]);

int main(int argc, char **argv)
{
	if (argc != 4)
		return 2;
	stride = strtoull(argv[1], NULL, 10);
	from = strtoull(argv[2], NULL, 10);
	to = strtoull(argv[3], NULL, 10);
	factors();
	EACH(COMPOSED)
	EACH(EXTRACTED)
	return 0;
}
