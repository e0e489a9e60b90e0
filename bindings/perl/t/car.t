# SPDX-License-Identifier: MIT
use v5.36;
use utf8;
use Test::More;
use Platewright qw(compare explain_car);
use Support;

# Printed as the altered pair: both share the last eight characters.
my %ALTERED = (dash => 'BS27R0B212211', body_tag => 'BH27G0B212211', engine => '0B212211');

subtest 'plates that agree' => sub {
    my $car = compare({ dash => 'RM23V0A149789', engine => '0a-149?89' });
    is $car->{verdict}, 'agrees';
    is_deeply [ map { $_->{taken} } $car->{plates}->@* ], [qw(full partial)];
    is_deeply $car->{plates}[1]{shows}, [ split //, '0A149?89' ];
    is $car->{joined}[0]{number}, 'RM23V0A149789';
};

subtest 'plates that differ' => sub {
    my $car = compare(\%ALTERED);
    is $car->{verdict}, 'differs';
    is_deeply { map { $_->{place} => $_->{verdict} } $car->{plates}->@* },
        { dash => 'differs', body_tag => 'differs', engine => 'agrees' };
    is_deeply [ sort map { $_->{position} } $car->{differences}->@* ], [ 2, 2, 5, 5 ];
};

subtest 'stamps alone' => sub {
    is compare({ engine => [qw(0A149789 0A149780)] })->{verdict}, 'differs';
    is compare({ engine => '0A149789' }, scheme => 'highland-park-1966')->{joined}[0]{number},
        '?????0A149789';
};

subtest dates => sub {
    my $car = compare({ dash => $LINCOLN }, dates => { casting => [ '3C1', 'nonsense #' ] });
    is_deeply [ map { $_->{text} } $car->{dates}->@* ], [ '3C1', 'NONSENSE ?' ];
    is $car->{dates}[0]{verdict}, 'fits';
    is $car->{dates}[1]{reason},  'not-understood';
};

subtest claims => sub {
    my $claims = compare(\%ALTERED, claims => [ year => 1970, body => 'wagon' ])->{claims};
    is_deeply [ map { $_->{verdict} } @$claims ], [qw(supported contradicted)];
    like explain_car(\%ALTERED, claims => { body => 'wagon' }), qr/body=wagon/;
    ok !exists compare(\%ALTERED)->{claims};
};

subtest 'step by step' => sub {
    my $car = Platewright::Car->new;
    $car->add_plate($_ => $ALTERED{$_}) for sort keys %ALTERED;
    is_deeply $car->compare, compare(\%ALTERED);
    is $car->explain(format => 'markdown'), explain_car(\%ALTERED, format => 'markdown');
    is scalar $car->clear->add_plate(dash => $LINCOLN)->compare->{plates}->@*, 1;
};

subtest 'words and tables stay as long as the car uses them' => sub {
    my $tables = Platewright::Tables->new(image());
    my $words  = 'scheme/port-ellery-1962 = Erste Zählung';
    my $names  = Platewright::Names->new($words, tables => $tables);
    my ($plain, $worded) = map { Platewright::Car->new(names => $_) } undef, $names;
    $_->add_plate(dash => 'T24K3P100051') for $plain, $worded;
    $worded->compare(tables => $tables);
    $_->close for $tables, $names;
    like $worded->explain(format => 'json'), qr/Erste Zählung/;

    my $others = Platewright::Tables->new(image());
    $plain->compare(tables => $others);
    $others->close;
    like $plain->explain(format => 'json'), qr/port-ellery-1962/;
};

subtest explain => sub {
    is scalar(grep { length > 80 } split /\n/, explain_car(\%ALTERED)), 0;
    unlike explain_car(\%ALTERED), qr/http/;
    like explain_car(\%ALTERED, sources => 1), qr/http/;
};

subtest refusals => sub {
    dies_like sub { compare({ roof => $LINCOLN }) }, qr/no place roof; .*door_label/, 'a place';
    dies_like sub { compare({}, dates => { sunday => 1 }) }, qr/kind of date sunday.*casting/,
        'a kind of date';
    dies_like sub { compare({ dash => '1' x 257 }) }, qr/PLW_E_TOO_LONG/, 'a number';
    dies_like sub { compare({ engine => [ ('1') x 17 ] }) }, qr/PLW_E_TOO_LONG/, 'plates';
    dies_like sub { compare({ dash => undef }) }, qr/a string, not undef/, 'undef';
    dies_like sub { compare({}, year => 19) }, qr/PLW_E_HINT/, 'a hint';
    dies_like sub { compare({}, claims => { year => '' }) }, qr/PLW_E_CLAIM/, 'a claim';
    dies_like sub { compare({}, colour => 1) }, qr/no option colour/, 'an option';
    dies_like sub { explain_car({}, format => 'papyrus') }, qr/PLW_E_FLAGS/, 'a format';
};

subtest closed => sub {
    my $car = Platewright::Car->new;
    $car->close for 1, 2;
    dies_like $_, qr/Platewright::Car is closed/, 'closed'
        for sub { $car->add_plate(dash => $LINCOLN) }, sub { $car->add_date(casting => '3C1') },
        sub { $car->clear }, sub { $car->compare }, sub { $car->explain };
};

done_testing;
