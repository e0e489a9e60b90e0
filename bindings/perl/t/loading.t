# SPDX-License-Identifier: MIT
use v5.36;
use File::Basename qw(dirname);
use Test::More;
use Support;

my $PROGRAM = "use Platewright; print Platewright::grade('3Y86N400001')";
my $NOWHERE = '/nowhere/libplatewright.so';

is run_perl($PROGRAM, PLATEWRIGHT_LIBRARY => undef, LD_LIBRARY_PATH => dirname($LIBRARY)), 'clear',
    'a library that is installed';

like run_perl($PROGRAM, PLATEWRIGHT_LIBRARY => $NOWHERE),
    qr/cannot be loaded \(\Q$NOWHERE\E.*name its file in PLATEWRIGHT_LIBRARY/,
    'a missing library is named';

is run_perl("eval { require Platewright } or print 'none'", PLATEWRIGHT_LIBRARY => $NOWHERE),
    'none', 'a program can go on without it';

like run_perl($PROGRAM, PLATEWRIGHT_LIBRARY => 'libm.so.6'),
    qr/the library found is not platewright/, 'another library is refused';

for my $number (20_000, 9_999) {
    my ($file, $folder) =
        altered_library("uint32_t plw_version_number(void) { return $number; }");
    like run_perl($PROGRAM, PLATEWRIGHT_LIBRARY => $file),
        qr/the library found has number $number /, "number $number is refused";
}

my $none = '*made = 0; return -4; }';
my ($file, $folder) = altered_library(<<~"C");
    int32_t plw_result_new(void **made) { $none
    int32_t plw_car_new(void **made) { $none
    int32_t plw_names_new(void *tables, char *text, long length, void **made) { $none
    C
for my $call ("Platewright::decode('1')", 'Platewright::Car->new', "Platewright::Names->new('')") {
    my $program = "use Platewright; eval { $call };" . 'print $@->status';
    is run_perl($program, PLATEWRIGHT_LIBRARY => $file), 'PLW_E_MEMORY', "no memory: $call";
}

done_testing;
