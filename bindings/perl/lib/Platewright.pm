# SPDX-License-Identifier: MIT
package Platewright;

use v5.36;
use Exporter 'import';
use FFI::Platypus::Buffer qw(scalar_to_buffer scalar_to_pointer);
use JSON::PP              ();
use Platewright::Arguments;
use Platewright::Car;
use Platewright::Library;
use Platewright::Names;
use Platewright::Tables;

our $VERSION = '1.0.0';
our @EXPORT_OK = qw(batch compare constants covers decode expect explain explain_car
    explain_expectation grade library_version prefix suggest validate);

my $PAGE  = 1 << 14;                          # bytes that most explanations fit into
my $BOOK  = 1 << 16;                          # bytes that most expectations fit into
my @HINTS = qw(maker year scheme tables);
my @ALL   = (@HINTS, qw(claims names));

my %prefix_states = reverse family('PLW_PREFIX_');
my $WIDTH         = $CONSTANT{PLW_BATCH_COLUMNS};
my %COLUMN        = family('PLW_BATCH_');
my %findings      = map { tr/_/-/r } reverse family('PLW_FINDING_');

sub library_version () { plw_version_text() }

sub constants () { return {%CONSTANT} }

# ---- one number ----------------------------------------------------------

sub _result () { make(\&plw_result_new, \&plw_result_free, undef) }

# A native result that the verb has filled.
sub _filled ($verb, $bytes, $options) {
    my ($tables, $names) = map { pointer_of($options->{$_}) } qw(tables names);
    my $hints  = hints_of($options);
    my $claims = claims_of($options);
    my $result = _result();
    check(plw_result_use_names($result->{pointer}, $names));
    check($verb->($tables, scalar_to_buffer($bytes), $hints, 0, $result->{pointer}));
    check(plw_check_claims($result->{pointer}, scalar_to_buffer($claims)));
    return $result;
}

# Start and length of every position in the characters of the text.
sub _spans ($result, $bytes) {
    my $count = plw_result_position_count($result);
    $count = $CONSTANT{PLW_MAX_POSITIONS} if $count > $CONSTANT{PLW_MAX_POSITIONS};
    my @spans;
    for my $position (1 .. $count) {
        check(plw_result_position($result, $position, \my $offset, \my $length));
        my ($before, $there) = (substr($bytes, 0, $offset), substr($bytes, $offset, $length));
        push @spans, [ length utf8($before), length utf8($there) ];
    }
    return \@spans;
}

sub _run ($verb, $number, $options) {
    known($options, @ALL);
    my $bytes    = bytes_of($number);
    my $result   = _filled($verb, $bytes, $options);
    my $document = JSON::PP->new->utf8->decode(
        written(\&plw_explain, $PAGE, $result->{pointer}, $FORMATS{json}, $SOURCES));
    $document->{spans} = _spans($result->{pointer}, $bytes);
    return $document;
}

sub decode ($number, %options) { _run(\&plw_decode, $number, \%options) }

sub validate ($number, %options) { _run(\&plw_validate, $number, \%options) }

sub suggest ($number, %options) { _run(\&plw_suggest, $number, \%options) }

sub explain ($number, %options) {
    known(\%options, @ALL, qw(format sources));
    my $format = numbered(\%FORMATS, $options{format} // 'text', 'format', 'PLW_E_FLAGS');
    my $result = _filled(\&plw_validate, bytes_of($number), \%options);
    return utf8(written(\&plw_explain, $PAGE, $result->{pointer}, $format,
            $options{sources} ? $SOURCES : 0));
}

sub grade ($number, %options) {
    known(\%options, @HINTS);
    my $bytes = bytes_of($number);
    check(plw_grade(pointer_of($options{tables}), scalar_to_buffer($bytes), hints_of(\%options), 0,
            \my $grade));
    return plw_grade_name($grade);
}

sub prefix ($text, %options) {
    known(\%options, 'tables');
    my $bytes  = bytes_of($text);
    my $tables = pointer_of($options{tables});
    my $handle = _result();
    my $result = $handle->{pointer};
    check(plw_prefix($tables, scalar_to_buffer($bytes), 0, $result));
    return {
        state   => $prefix_states{ plw_prefix_state($result) },
        schemes => [
            map { plw_scheme_key($tables, plw_prefix_scheme($result, $_)) }
                0 .. plw_prefix_scheme_count($result) - 1
        ],
        allowed       => text_of(\&plw_prefix_allowed, $result),
        known         => text_of(\&plw_prefix_known,   $result),
        remaining_min => plw_prefix_remaining_min($result),
        remaining_max => plw_prefix_remaining_max($result),
    };
}

# ---- many numbers --------------------------------------------------------

sub _verdict ($number, $schemes, @row) {
    my $status = $row[ $COLUMN{status} ];
    my $read   = $status == $CONSTANT{PLW_OK};
    my $scheme = $row[ $COLUMN{scheme} ];
    return {
        number     => $number,
        error      => $read ? undef                                 : plw_status_name($status),
        grade      => $read ? plw_grade_name($row[ $COLUMN{grade} ]) : undef,
        finding    => $findings{ $row[ $COLUMN{finding} ] },
        scheme     => $read && $scheme >= 0 ? $schemes->[$scheme] : undef,
        first_year => $row[ $COLUMN{first_year} ] || undef,
        last_year  => $row[ $COLUMN{last_year} ]  || undef,
        readings   => $row[ $COLUMN{readings} ],
        findings   => $row[ $COLUMN{findings} ],
    };
}

sub batch ($numbers, %options) {
    known(\%options, @HINTS);
    my ($tables, $text, @ends) = (pointer_of($options{tables}), '');
    for (@$numbers) {
        $text .= bytes_of($_);
        push @ends, length $text;
    }
    my $rows = "\0" x (4 * $WIDTH * @ends + 1);
    check(plw_batch($tables, scalar_to_pointer($text), [ @ends, 0 ], scalar @ends,
            hints_of(\%options), 0, scalar_to_pointer($rows)));
    my @values  = unpack 'l*', $rows;
    my @schemes = map { plw_scheme_key($tables, $_) } 0 .. plw_scheme_count($tables) - 1;
    return map { _verdict($_, \@schemes, splice @values, 0, $WIDTH) } @$numbers;
}

# ---- one car -------------------------------------------------------------

# One text, or several in an array.
sub _each ($texts) { ref $texts ? @$texts : $texts }

# plates and dates by place or kind.
sub _car ($plates, $options) {
    my $car   = Platewright::Car->new(names => delete $options->{names});
    my $dates = delete $options->{dates} // {};
    for my $place (sort keys %$plates) {
        $car->add_plate($place, $_) for _each($plates->{$place});
    }
    for my $kind (sort keys %$dates) {
        $car->add_date($kind, $_) for _each($dates->{$kind});
    }
    return $car;
}

sub compare ($plates, %options) {
    return _car($plates, \%options)->compare(%options);
}

sub explain_car ($plates, %options) {
    my %wording = map { exists $options{$_} ? ($_ => delete $options{$_}) : () } qw(format sources);
    my $car     = _car($plates, \%options);
    $car->compare(%options);
    return $car->explain(%wording);
}

# ---- from claims to numbers ----------------------------------------------

# A native expectation of these claims.
sub _expectation ($claims, $options) {
    my ($tables, $names) = map { pointer_of($options->{$_}) } qw(tables names);
    my $listed = claims_of({ claims => $claims });
    my $found  = make(\&plw_expectation_new, \&plw_expectation_free, undef);
    check(plw_expectation_use_names($found->{pointer}, $names));
    check(plw_expect($tables, scalar_to_buffer($listed), hints_of($options), 0, $found->{pointer}));
    return $found;
}

sub expect ($claims, %options) {
    known(\%options, @HINTS, 'names');
    my $found = _expectation($claims, \%options);
    return JSON::PP->new->utf8->decode(
        written(\&plw_explain_expectation, $BOOK, $found->{pointer}, $FORMATS{json}, $SOURCES));
}

sub explain_expectation ($claims, %options) {
    known(\%options, @HINTS, qw(names format sources));
    my $format = numbered(\%FORMATS, $options{format} // 'text', 'format', 'PLW_E_FLAGS');
    my $found  = _expectation($claims, \%options);
    return utf8(written(\&plw_explain_expectation, $BOOK, $found->{pointer}, $format,
            $options{sources} ? $SOURCES : 0));
}

my %covered;
@covered{ @CONSTANT{qw(PLW_COVERED_NOT PLW_COVERED PLW_COVERED_OPEN)} } = (0, 1, undef);

sub covers ($pattern, $number) {
    my ($wanted, $given) = (bytes_of($pattern, 'a pattern'), bytes_of($number));
    check(plw_pattern_covers(scalar_to_buffer($wanted), scalar_to_buffer($given), \my $answer,
            \my $position));
    return { covered => $covered{$answer}, position => $position || undef };
}

1;

__END__

=encoding UTF-8

=head1 NAME

Platewright - reads the identification numbers stamped on collector cars

=head1 SYNOPSIS

    use v5.36;
    use Platewright qw(validate);

    my $result = validate('3Y86N400001', claims => { year => 1963 });
    say $result->{readings}[0]{scheme};
    say $_->{sentence} for $result->{findings}->@*, $result->{claims}->@*;

=head1 DESCRIPTION

The module calls the installed C library through L<FFI::Platypus> and adds no logic of its own.
Every number can be read: what is strange about it comes back as findings. Texts are Perl's strings
of characters; a number that was read from a file must be decoded first.

All functions can be imported by name. Most take these options:

=over

=item maker, year, scheme

What you believe. It ranks readings and hides none.

=item claims

What a listing says, as C<plw_check_claims(3)> lists it: a hash, or an array of pairs whose order is
kept.

=item tables, names

L<Platewright::Tables> in place of the compiled-in ones; L<Platewright::Names>, your own words.

=back

=head1 FUNCTIONS

=head2 decode, validate, suggest

Every way to read the number, ranked; with all findings; and with the nearest numbers that would
hold, as guesses, of which nothing is applied. They give the library's JSON as a hash. Its JSON
Schema is installed with the library. C<spans> comes along: C<substr $number, $$span[0], $$span[1]>
is what was typed at a position.

=head2 explain

The reading in words. Besides the options above C<format> is one of C<plw_explain(3)>, C<text>
without it, and C<sources> lists them in full.

=head2 grade

Just the grade: clear, note, doubt or fault.

=head2 batch

    for my $verdict (Platewright::batch(\@numbers)) { ... }

The verdicts on many numbers by one call of the library, as a list of hashes: number, error, grade,
finding (the gravest), scheme, first_year and last_year (of the best reading), readings and findings
(how many). A number that cannot be taken has the name of its status as error and does not end the
batch. Takes maker, year, scheme and tables.

=head2 prefix

What the beginning of a number leaves open, for a form at every key stroke: a hash of state,
schemes, allowed, known, remaining_min and remaining_max. Takes tables.

=head2 compare, explain_car

    Platewright::compare({ dash => $number, engine => [$stamp, $other] },
        dates => { casting => '9H12' });

The plates and dates of one car, held against each other; see L<Platewright::Car>. claims are held
against what the plates say together. explain_car takes format and sources, too.

=head2 expect, explain_expectation

    my $found = Platewright::expect({ year => 1971, body => 'convertible' }, maker => 'Ford');
    say $_->{pattern} for $found->{patterns}->@*;

For every scheme, the patterns of the numbers that could bear the claims: the library's JSON as a
hash, or the same for people. Hints rank patterns and hide none. They take maker, year, scheme,
tables and names; explain_expectation takes format and sources, too.

=head2 covers

    Platewright::covers($pattern, $number)->{covered}

The reverse: a hash of covered, which is undef when the number's unreadable characters decide, and
position, the first that does not fit or is open. Both are read without tables: no character is
taken for another.

=head2 constants

Every number of the C header, by name, as a hash.

=head2 library_version

The version of the C library that is running.

=head1 ERRORS

Whatever is refused dies with a L<Platewright::Error>, whose sentence and C<status> carry the name
of the library's status, such as C<PLW_E_TOO_LONG>. A missing library, or one of another release,
makes C<use> die. The library that is loaded is the file that the environment variable
C<PLATEWRIGHT_LIBRARY> names, else the one that the system finds.

=head1 THREADS

All functions may be called in several threads of Perl; load the module before they are made.
Tables, names and cars belong to the thread that made them and are not there in a thread that is
made later.
Forked processes keep theirs.

=cut
