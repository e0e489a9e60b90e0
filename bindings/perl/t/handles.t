# SPDX-License-Identifier: MIT
use v5.36;
use utf8;
use Test::More;
use Platewright;
use Support;

my $image = image();

subtest 'compiled-in tables' => sub {
    my $tables = Platewright::Tables->new;
    my ($scheme) = grep { $_->{key} eq 'dearborn-1960' } $tables->schemes;
    is $scheme->{first_year}, 1960;
    is length $_->{sample}, $_->{length} for $scheme->{layouts}->@*;
    is_deeply Platewright::decode($LINCOLN)->{tables},
        { edition => $tables->edition, digest => $tables->digest };
};

subtest 'an image' => sub {
    my $bytes  = $image;
    my $tables = Platewright::Tables->new($bytes);
    substr $bytes, 0, length $bytes, "\0" x length $bytes;    # the tables have a copy
    my ($scheme) = $tables->schemes;
    my $number   = $scheme->{layouts}[0]{sample};
    my @with     = (tables => $tables);
    like $scheme->{key}, qr/^port-ellery-/;
    is Platewright::decode($number, @with)->{readings}[0]{scheme}, $scheme->{key};
    is + (Platewright::batch([$number], @with))[0]{scheme}, $scheme->{key};
    is Platewright::prefix(substr($number, 0, 2), @with)->{schemes}[0], $scheme->{key};
    is Platewright::grade($number, @with), Platewright::validate($number, @with)->{grade};
};

subtest 'a file' => sub {
    my $file = File::Temp->new;
    print $file $image;
    close $file;
    my $tables = Platewright::Tables->open("$file");
    is $tables->digest,   Platewright::Tables->new($image)->digest;
    isnt $tables->digest, Platewright::Tables->new->digest;
    dies_like sub { Platewright::Tables->open("$file/none") }, qr/cannot open/, 'no file';
};

subtest 'what is no image' => sub {
    dies_like sub { Platewright::Tables->new($_) }, qr/\(PLW_E_IMAGE\)/, 'refused'
        for '', 'PLWTABLE', 'x' x 4096, substr $image, 0, -1;
    dies_like sub { Platewright::Tables->new("\x{2605}") }, qr/string of bytes/, 'characters';
};

subtest 'closed tables' => sub {
    for my $tables (Platewright::Tables->new, Platewright::Tables->new($image)) {
        $tables->close for 1, 2;
        dies_like $_, qr/Platewright::Tables is closed/, 'closed'
            for sub { $tables->digest }, sub { $tables->edition }, sub { $tables->schemes },
            sub { Platewright::decode($LINCOLN, tables => $tables) },
            sub { Platewright::grade($LINCOLN, tables => $tables) },
            sub { Platewright::prefix($LINCOLN, tables => $tables) },
            sub { Platewright::batch([$LINCOLN], tables => $tables) },
            sub { Platewright::compare({}, tables => $tables) },
            sub { Platewright::Names->new('', tables => $tables) };
    }
};

my $WORDS = "# house words\nfield/engine = Großer Motor\nscheme/dearborn-1960 = Ab 1960\n";

subtest names => sub {
    my $names = Platewright::Names->new($WORDS);
    is_deeply [ $names->problems ], [];
    is Platewright::decode($LINCOLN, names => $names)->{readings}[0]{title}, 'Ab 1960';
    like Platewright::explain($LINCOLN, format => $_, names => $names), qr/Großer Motor/
        for qw(text markdown json);
    undef $names;
    unlike Platewright::explain($LINCOLN), qr/Motor/;
};

subtest 'problems have line and text' => sub {
    my $names = Platewright::Names->new("field/plant = X\nnonsense\nfield/nothing = x\n");
    my @problems = $names->problems;
    is_deeply [ map { $_->{line} } @problems ], [ 2, 3 ];
    like $problems[0]{text}, qr/key = words/;
};

subtest 'names in a file keep their tables' => sub {
    my $tables = Platewright::Tables->new($image);
    my $names  = Platewright::Names->open("$ENV{srcdir}/tests/fixtures/quillfeather.names",
        tables => $tables);
    like Platewright::explain('T24K3P100051', tables => $tables, names => $names),
        qr/Wexcombe of Port Ellery, first numbering/;
    undef $tables;
    is_deeply [ $names->problems ], [];
};

subtest 'refused names' => sub {
    dies_like sub { Platewright::Names->new("\n" x 4_194_305) }, qr/PLW_E_TOO_LONG/, 'too long';
    my $names = Platewright::Names->new($WORDS);
    $names->close;
    dies_like $_, qr/Platewright::Names is closed/, 'closed'
        for sub { $names->problems }, sub { Platewright::decode($LINCOLN, names => $names) },
        sub { Platewright::Car->new(names => $names) };
};

done_testing;
