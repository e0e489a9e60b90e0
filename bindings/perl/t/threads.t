# SPDX-License-Identifier: MIT
use v5.36;
use threads;
use Platewright;
use Support;
use Test::More;

my %YEARS   = ($LINCOLN => 1963, 'RM23V0A149789' => 1970, '5F08F100001' => 1965);
my @NUMBERS = sort keys %YEARS;

# Decodes with words of its own; true when every answer is right.
sub work ($index) {
    my $number = $NUMBERS[ $index % 3 ];
    my $names  = Platewright::Names->new("field/engine = Motor $index\n");
    for (1 .. 20) {
        my $reading = Platewright::decode($number, names => $names)->{readings}[0];
        my ($engine) = grep { $_->{field} eq 'engine' } $reading->{fields}->@*;
        return 0 if "@{$reading->{years}} $engine->{label}" ne "$YEARS{$number} Motor $index";
    }
    return join(' ', map { $_->{first_year} } Platewright::batch([ (@NUMBERS) x 100 ])) eq
        join ' ', (@YEARS{@NUMBERS}) x 100;
}

subtest threads => sub {
    my $tables  = Platewright::Tables->new(image());
    my @threads = map { my $index = $_; threads->create(sub { work($index) }) } 1 .. 5;
    ok $_->join, 'every answer is right' for @threads;
    my $told = threads->create(sub { eval { $tables->digest } // "$@" })->join;
    like $told, qr/Platewright::Tables belongs to another thread/;
    like $tables->digest, qr/^[0-9a-f]{16}$/, 'which are not freed by it';
};

subtest processes => sub {
    my $tables = Platewright::Tables->new(image());
    my $digest = $tables->digest;
    for my $index (1 .. 5) {
        my $child = fork // die $!;
        if (!$child) {
            my $good = work($index) && $tables->digest eq $digest;
            require POSIX;
            POSIX::_exit($good ? 7 : 1);
        }
    }
    for (1 .. 5) {
        wait;
        is $? >> 8, 7, 'every answer is right';
    }
};

done_testing;
