# SPDX-License-Identifier: MIT
use v5.36;
use Test::More;
use Platewright qw(batch validate);
use Support;

subtest 'each is what validate says' => sub {
    my @numbers = published_numbers();
    cmp_ok scalar @numbers, '>', 100;
    my @wrong;
    for my $verdict (batch(\@numbers)) {
        my $result = validate(shift @numbers);
        my $best   = $result->{readings}[0] // { years => [] };
        my @expected = (
            $result->{grade}, $result->{findings}[0]{code}, $best->{scheme},
            $best->{years}->@[ 0, -1 ],
            scalar $result->{readings}->@*, scalar grep { $_->{code} } $result->{findings}->@*);
        my @given = @$verdict{qw(grade finding scheme first_year last_year readings findings)};
        push @wrong, $verdict->{number}
            if join('|', map { $_ // '-' } @expected) ne join('|', map { $_ // '-' } @given);
    }
    is_deeply \@wrong,   [];
    is_deeply \@numbers, [];
};

subtest 'a bad number does not end it' => sub {
    my @batch = batch([ $LINCOLN, '1' x 257, '', "\x{ff13}Y86N400001" ]);
    is_deeply [ map { $_->{error} } @batch ], [ undef,   'PLW_E_TOO_LONG', undef,   undef ];
    is_deeply [ map { $_->{grade} } @batch ], [ 'clear', undef,            'fault', 'clear' ];
    is_deeply [ @{ $batch[1] }{qw(scheme readings)} ], [ undef, 0 ];
};

subtest 'hints are for all' => sub {
    my @numbers = ('RL41G8A123456') x 2;
    is_deeply [ map { $_->{first_year} } batch(\@numbers) ], [ 1968, 1968 ];
    is_deeply [ map { $_->{first_year} } batch(\@numbers, year => 1978) ], [ 1978, 1978 ];
    dies_like sub { batch(\@numbers, year => 19) }, qr/PLW_E_HINT/, 'a hint';
};

subtest refusals => sub {
    is_deeply [ batch([]) ], [], 'nothing is no number';
    dies_like sub { batch([ $LINCOLN, undef ]) }, qr/a number is a string/, 'undef';
};

done_testing;
