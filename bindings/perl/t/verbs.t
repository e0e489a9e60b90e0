# SPDX-License-Identifier: MIT
use v5.36;
use utf8;
use Test::More;
use Platewright qw(decode explain grade prefix suggest validate);
use Support;

sub engine ($result) {
    my ($field) = grep { $_->{field} eq 'engine' } $result->{readings}[0]{fields}->@*;
    return $field;
}

subtest decode => sub {
    my $result = decode($LINCOLN);
    is $result->{readings}[0]{scheme}, 'dearborn-1960';
    is_deeply $result->{readings}[0]{years}, [1963];
    is_deeply engine($result)->{positions}, [5];
    is engine($result)->{meanings}[0]{attributes}{cid}, 430;
    is_deeply $result->{findings}, [];
};

subtest validate => sub {
    my $result = validate('3Y86N4000#1');
    my ($finding) = grep { $_->{code} eq 'character' } $result->{findings}->@*;
    is $result->{grade}, 'fault';
    is_deeply $finding->{positions}, [10];
    is_deeply validate('1M8GDM9A1KP042788')->{readings}[0]{check},
        { state => 'fails', expected => 'X' };
};

subtest 'spans point into the string given' => sub {
    my $text   = "\x{2605} 3Y 86\x{ff2e}-400001 \x{2605}";
    my $result = validate($text);
    is $result->{number}, $LINCOLN;
    is_deeply $result->{spans}[4], [ 7, 1 ];
    is substr($text, $result->{spans}[4][0], $result->{spans}[4][1]), "\x{ff2e}";
};

subtest 'odd characters' => sub {
    no warnings 'surrogate', 'non_unicode';
    is decode("3Y86\x{d800}400001")->{number},   '3Y86?400001';
    is decode("3Y86\x{200000}400001")->{number}, '3Y86?400001';
    is decode("3Y86\x{e9}400001")->{number}, "3Y86\x{e9}400001", 'characters, not bytes';
};

subtest 'hints rank' => sub {
    my @years = map { $_->{years}[0] } decode('RL41G8A123456')->{readings}->@*;
    my @later = map { $_->{years}[0] } decode('RL41G8A123456', year => 1978)->{readings}->@*;
    is_deeply \@years, [ 1968, 1978 ];
    is_deeply \@later, [ 1978, 1968 ];
};

subtest 'suggest offers and applies nothing' => sub {
    my $result = suggest('164AH59H45G118341');
    is $result->{grade}, 'fault';
    is_deeply [ map { $_->{number} } $result->{suggestions}->@* ], ['1G4AH59H45G118341'];
    is_deeply $result->{suggestions}[0]{changes}, [ { position => 2, typed => '6', meant => 'G' } ];
    ok !exists validate('164AH59H45G118341')->{suggestions};
};

subtest prefix => sub {
    is_deeply prefix('1G4AH59H45G11834'),
        {
            state         => 'open',
            schemes       => ['iso3779'],
            allowed       => '0123456789',
            known         => '0123456789',
            remaining_min => 1,
            remaining_max => 1,
        };
    is prefix('3Y#8')->{state},   'impossible';
    is prefix($LINCOLN)->{state}, 'complete';
};

subtest explain => sub {
    is scalar(grep { length > 80 } split /\n/, explain($LINCOLN)), 0, 'for 80 columns';
    like explain($LINCOLN, format => 'markdown', sources => 1), qr/http/;
    unlike explain($LINCOLN, format => 'markdown'), qr/http/;
    my %begins = (json => '{', svg => '<svg ', html => '<!DOCTYPE html>');
    is substr(explain($LINCOLN, format => $_), 0, length $begins{$_}), $begins{$_}, $_
        for sort keys %begins;
    like explain("3Y86\x{ff2e}400001", claims => { body => "Coup\x{e9}" }), qr/Coup\x{e9}/;
};

subtest 'grade agrees with validate' => sub {
    is grade($_), validate($_)->{grade} for $LINCOLN, '', '???', "\0", 'XX29L9B410772';
};

subtest claims => sub {
    my @claims = (year => 1963, engine => '7.0L V8', body => 'wagon', colour => 'blue');
    my $claims = validate($LINCOLN, claims => \@claims)->{claims};
    is_deeply [ map { $_->{verdict} } @$claims ], [qw(supported supported contradicted not-told)];
    is_deeply [ map { $_->{attribute} } @$claims ], [ qw(year engine body), undef ];
    like explain($LINCOLN, claims => { body => 'wagon' }), qr/The number contradicts body=wagon/;
};

subtest constants => sub {
    is Platewright::constants()->{PLW_MAX_TEXT}, 256;
    is $Platewright::VERSION, Platewright::library_version();
};

subtest refusals => sub {
    for my $verb (\&decode, \&validate, \&suggest, \&explain, \&grade, \&prefix) {
        dies_like sub { $verb->('1' x 257) }, qr/\(PLW_E_TOO_LONG\)/, 'too long';
        dies_like sub { $verb->(undef) }, qr/a number is a string, not undef/, 'undef';
        dies_like sub { $verb->([]) },    qr/a number is a string, not ARRAY/, 'a reference';
        dies_like sub { $verb->('1', colour => 1) }, qr/no option colour/, 'an option';
    }
    for my $hints ([ year => 19 ], [ maker => 'a;b' ], [ scheme => "a\0b" ]) {
        dies_like sub { $_->('1', @$hints) }, qr/PLW_E_HINT/, 'a hint'
            for \&decode, \&explain, \&grade;
    }
    for my $claims ({ year => '1963;body=van' }, { 'a=b' => 'c' }, [ year => '' ],
        [ line => "a\nb" ], [ line => "a\0b" ]) {
        dies_like sub { decode('1', claims => $claims) }, qr/PLW_E_CLAIM/, 'a claim';
    }
    dies_like sub { decode('1', claims => { line => 'x' x 1100 }) }, qr/PLW_E_TOO_LONG/, 'claims';
    dies_like sub { decode('1', maker => 'x' x 600) }, qr/PLW_E_TOO_LONG/, 'hints';
    dies_like sub { explain('1', format => 'papyrus') }, qr/papyrus.*markdown.*PLW_E_FLAGS/,
        'a format';
};

done_testing;
