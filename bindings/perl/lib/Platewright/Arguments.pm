# SPDX-License-Identifier: MIT
package Platewright::Arguments;

# What callers give, as the library takes it.

use v5.36;
use Exporter 'import';
use Platewright::Library;

our @EXPORT = qw(bytes_of claims_of hints_of known numbered pointer_of $SOURCES %DATE_KINDS
    %FORMATS %PLACES);

our $SOURCES = $CONSTANT{PLW_EXPLAIN_SOURCES};
our %FORMATS = family('PLW_FORMAT_');
my %places = family('PLW_PLACE_');
our %PLACES = map { plw_place_name($_) => $_ } values %places;

# PLW_DATE_ is also how verdicts and reasons begin; only kinds have such a name.
my %kinds = family('PLW_DATE_');
our %DATE_KINDS = map { plw_date_kind_name($_) => $_ } values %kinds;
delete $DATE_KINDS{''};

# A text as UTF-8. What is no character of Unicode becomes '?', which cannot be read.
sub bytes_of ($text, $what = 'a number') {
    Platewright::Error->throw("$what is a string, not " . (ref $text || 'undef'))
        if !defined $text || ref $text;
    $text =~ s/[^\x{0}-\x{D7FF}\x{E000}-\x{10FFFF}]/?/g;
    utf8::encode($text);
    return $text;
}

# Refuses options that a call does not know.
sub known ($options, @names) {
    my %known = map { $_ => 1 } @names;
    for (sort keys %$options) {
        Platewright::Error->throw("there is no option $_; use one of " . join ', ', @names)
            if !$known{$_};
    }
}

sub _pairs ($status, $parts) {
    my @pairs;
    for my $key (sort keys %$parts) {
        my $value = $parts->{$key} // next;
        Platewright::Error->throw("$key cannot hold ';' or a zero byte, nor a key '='", $status)
            if "$key$value" =~ /[;\0]/ || $key =~ /=/;
        push @pairs, bytes_of("$key=$value");
    }
    return join ';', @pairs;
}

# maker, year and scheme, or undef, which is NULL.
sub hints_of ($options) {
    my %hints = map { $_ => $options->{$_} } qw(maker year scheme);
    return _pairs(PLW_E_HINT => \%hints) || undef;
}

# Claims are a hash, or pairs whose order is kept.
sub claims_of ($options) {
    my $claims = $options->{claims} // {};
    return _pairs(PLW_E_CLAIM => $claims) if ref $claims eq 'HASH';
    my @parts;
    for (my $i = 0; $i < @$claims; $i += 2) {
        push @parts, _pairs(PLW_E_CLAIM => { $claims->[$i] => $claims->[ $i + 1 ] });
    }
    return join ';', @parts;
}

# The pointer of Tables or Names; NULL for none.
sub pointer_of ($owner) {
    return defined $owner ? $owner->handle->{pointer} : undef;
}

# The number of a name in a list of the library.
sub numbered ($list, $name, $what, $status = undef) {
    return $list->{$name} // Platewright::Error->throw(
        "there is no $what $name; use one of " . join(', ', sort keys %$list), $status);
}

1;
