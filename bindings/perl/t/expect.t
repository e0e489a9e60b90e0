# SPDX-License-Identifier: MIT
use v5.36;
use utf8;
use Test::More;
use Platewright qw(covers expect explain_expectation);
use Support;

my $tables = Platewright::Tables->new(image());

subtest patterns => sub {
    my $found = expect([ year => 1966, body => 'convertible', engine => '260' ], tables => $tables);
    is_deeply [ map { $_->{pattern} } $found->{patterns}->@* ], ['?27M6???????'];
    is_deeply $found->{patterns}[0]{tells}, [ 0, 1, 2 ];
    is_deeply [ map { $_->{attribute} } $found->{claims}->@* ], [qw(year body engine)];
    is $found->{tables}{digest}, $tables->digest;
};

subtest 'what rules everything out' => sub {
    my $found = expect([ year => 1950, body => 'hardtop' ], tables => $tables);
    is_deeply $found->{patterns}, [];
    is_deeply [ map { $_->{rules_out} ? 1 : 0 } $found->{claims}->@* ], [ 1, 0 ];
};

subtest 'words and hints' => sub {
    my $names = Platewright::Names->new('scheme/port-ellery-1962 = Größe', tables => $tables);
    my $found = expect({ year => 1966 }, tables => $tables, names => $names);
    is $found->{patterns}[0]{title}, 'Größe';
    my $all    = expect({ cylinders => 4 }, tables => $tables)->{patterns};
    my $hinted = expect({ cylinders => 4 }, tables => $tables, year => 1972)->{patterns};
    is scalar @$hinted, scalar @$all;
    is_deeply $hinted->[0]{years}, [1972];
    isnt "@{ $all->[0]{years} }", '1972';
};

subtest 'for people' => sub {
    my $claims = { year => 1963, engine => '430' };
    is scalar(grep { length > 80 } split /\n/, explain_expectation($claims)), 0;
    unlike explain_expectation($claims, format => 'markdown'), qr/http/;
    like explain_expectation($claims, format => 'markdown', sources => 1), qr/http/;
};

subtest covers => sub {
    my $pattern = '?27[MR]6???????';
    is_deeply covers($pattern, 'S27M6P100001'), { covered => 1,     position => undef };
    is_deeply covers($pattern, 'S27Z6P100001'), { covered => 0,     position => 4 };
    is_deeply covers($pattern, 'S27?6P100001'), { covered => undef, position => 4 };
    my $patterns = expect({ year => 1963, engine => '430', plant => 'Wixom' })->{patterns};
    ok grep { covers($_->{pattern}, $LINCOLN)->{covered} } @$patterns;
};

subtest refusals => sub {
    dies_like sub { expect({ year => '' }) }, qr/PLW_E_CLAIM/, 'a claim';
    dies_like sub { expect({}, year => 19) }, qr/PLW_E_HINT/, 'a hint';
    dies_like sub { expect({ line => 'x' x 1100 }) }, qr/PLW_E_TOO_LONG/, 'claims';
    dies_like sub { expect({}, colour => 1) }, qr/no option colour/, 'an option';
    dies_like sub { explain_expectation({}, format => 'svg') }, qr/PLW_E_FLAGS/, 'a format';
    dies_like sub { covers('?' x 257, '1') }, qr/PLW_E_TOO_LONG/, 'a pattern';
    dies_like sub { covers('?', undef) }, qr/a number is a string/, 'undef';
};

done_testing;
