using System.Globalization;
using System.Text;
using PackCare.Analysis.Assessments;
using PackCare.Analysis.FullCharge;
using PackCare.Analysis.Standings;
using PackCare.Core.Estimates;
using PackCare.Core.Packs;

namespace PackCare.Analysis.Digests;

/// <summary>
/// Digests as text: fields one after the other, each ended by a tab. Thousands are read whenever the program starts, which
/// is why they are no JSON. Figures come back to the last bit, moments to the tick with their offset.
/// </summary>
internal static class DigestText
{
    private const string None = "-";

    /// <summary>Writes a digest.</summary>
    public static string Write(DigestContent content)
    {
        var text = new Writer();
        text.Put(content.From);
        text.Put(content.Until);
        text.Put(content.RestSpreadMillivolts);
        text.Put(content.HealthPercent);
        text.Put(content.ResistanceRatio);
        text.Put(content.LastRecord);
        text.Put(content.JudgedSessions);
        text.Put(content.Passing);
        text.Put(content.Limits);
        text.Put(content.Before);
        text.Put(content.After);
        return text.ToString();
    }

    /// <summary>Reads what <see cref="Write"/> wrote.</summary>
    /// <exception cref="FormatException">It is something else.</exception>
    public static DigestContent Read(string text)
    {
        var fields = new Reader(text);
        DateTimeOffset from = fields.Moment();
        DateTimeOffset until = fields.Moment();
        double? spread = fields.MaybeNumber();
        Estimate? health = fields.MaybeEstimate();
        Estimate? ratio = fields.MaybeEstimate();
        DateTimeOffset? last = fields.MaybeMoment();
        int sessions = fields.Count();
        Passing passing = fields.Passing();
        CareLimits limits = new(fields.Number(), fields.Number(), fields.Number(), fields.Number());
        Finding[] before = fields.Findings();
        Finding[] after = fields.Findings();
        fields.End();
        return new DigestContent(from, until, spread, health, ratio, last, sessions, before, after, passing, limits);
    }

    private sealed class Writer
    {
        private readonly StringBuilder _text = new();

        public void Put(Passing passing)
        {
            Put((int)passing.Chemistry);
            Put(passing.Celsius);
            Put(passing.First);
            Put(passing.LeftFull);
            Put(passing.LastVoltage);
            Put(passing.Spells.Count);
            foreach (FullSpell spell in passing.Spells)
            {
                Put(spell.From);
                Put(spell.To);
                Put(spell.Confirmed ? 1 : 0);
            }
        }

        public void Put(CareLimits limits)
        {
            Put(limits.FullSpellDueDays);
            Put(limits.FullSpellOverdueDays);
            Put(limits.FullSpellPastDays);
            Put(limits.CheckOverdueDays);
        }

        public void Put(IReadOnlyList<Finding> findings)
        {
            Put(findings.Count);
            foreach (Finding finding in findings)
            {
                Put((int)finding.Code);
                Put((int)finding.Level);
                Put(finding.Cell);
                Put(finding.Value);
                Put(finding.Unit);
                Put(finding.Low);
                Put(finding.High);
                Put(finding.Limit);
                Put(finding.Margin);
                Put(finding.Text);
                Put(finding.Action);
                Put((int?)finding.Due);
                Put(finding.Since);
                Put(finding.Count);
                Put(finding.Sessions.Count);
                foreach (long session in finding.Sessions)
                {
                    Put(session);
                }
            }
        }

        public void Put(Estimate? estimate)
        {
            Put(estimate?.Value);
            if (estimate is not null)
            {
                Put(estimate.StandardError);
                Put(estimate.Low);
                Put(estimate.High);
                Put(estimate.Confidence);
                Put(estimate.Count);
            }
        }

        public void Put(DateTimeOffset? moment)
        {
            if (moment is not { } at)
            {
                Put((string?)null);
                return;
            }

            Put(at.UtcTicks);
            Put(at.TotalOffsetMinutes);
        }

        public void Put(double? value) => Append(value?.ToString("R", CultureInfo.InvariantCulture));

        public void Put(long? value) => Append(value?.ToString(CultureInfo.InvariantCulture));

        public void Put(string? value) =>
            Append(value is null ? null : "=" + value.Replace("%", "%25", StringComparison.Ordinal).Replace("\t", "%09", StringComparison.Ordinal));

        public override string ToString() => _text.ToString();

        private void Append(string? field) => _text.Append(field ?? None).Append('\t');
    }

    private sealed class Reader(string text)
    {
        private int _at;

        public Passing Passing()
        {
            var chemistry = (Chemistry)Count();
            double celsius = Number();
            DateTimeOffset? first = MaybeMoment();
            DateTimeOffset? leftFull = MaybeMoment();
            DateTimeOffset? lastVoltage = MaybeMoment();
            var spells = new FullSpell[Count()];
            for (int i = 0; i < spells.Length; i++)
            {
                spells[i] = new FullSpell(Moment(), Moment(), Whole() != 0, false);
            }

            return new Passing(chemistry, celsius, first, spells, leftFull, lastVoltage);
        }

        public Finding[] Findings()
        {
            var findings = new Finding[Count()];
            for (int i = 0; i < findings.Length; i++)
            {
                var code = (FindingCode)Whole();
                var level = (FindingLevel)Whole();
                int? cell = (int?)MaybeWhole();
                double? value = MaybeNumber();
                string? unit = MaybeText();
                double? low = MaybeNumber();
                double? high = MaybeNumber();
                double? limit = MaybeNumber();
                double? margin = MaybeNumber();
                string said = MaybeText() ?? throw new FormatException();
                string action = MaybeText() ?? throw new FormatException();
                var due = (DueUrgency?)MaybeWhole();
                DateTimeOffset? since = MaybeMoment();
                int? count = (int?)MaybeWhole();
                var sessions = new long[Count()];
                for (int session = 0; session < sessions.Length; session++)
                {
                    sessions[session] = Whole();
                }

                findings[i] = new Finding(code, level, cell, value, unit, low, high, limit, margin, sessions, said, action, due, since, count);
            }

            return findings;
        }

        public Estimate? MaybeEstimate() =>
            MaybeNumber() is { } value ? new Estimate(value, Number(), Number(), Number(), Number(), Count()) : null;

        public DateTimeOffset Moment() => MaybeMoment() ?? throw new FormatException();

        public DateTimeOffset? MaybeMoment()
        {
            if (MaybeWhole() is not { } ticks)
            {
                return null;
            }

            try
            {
                return new DateTimeOffset(ticks, TimeSpan.Zero).ToOffset(TimeSpan.FromMinutes(Whole()));
            }
            catch (ArgumentException fault)
            {
                throw new FormatException("no moment", fault);
            }
        }

        public double Number() => MaybeNumber() ?? throw new FormatException();

        public double? MaybeNumber()
        {
            ReadOnlySpan<char> field = Next();
            return field is None ? null : double.Parse(field, NumberStyles.Float, CultureInfo.InvariantCulture);
        }

        public int Count()
        {
            long count = Whole();
            return count >= 0 && count <= text.Length ? (int)count : throw new FormatException();
        }

        public long Whole() => MaybeWhole() ?? throw new FormatException();

        public long? MaybeWhole()
        {
            ReadOnlySpan<char> field = Next();
            return field is None ? null : long.Parse(field, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture);
        }

        public string? MaybeText()
        {
            ReadOnlySpan<char> field = Next();
            if (field is None)
            {
                return null;
            }

            if (field is not ['=', .. var value])
            {
                throw new FormatException();
            }

            return value.Contains('%')
                ? value.ToString().Replace("%09", "\t", StringComparison.Ordinal).Replace("%25", "%", StringComparison.Ordinal)
                : value.ToString();
        }

        public void End()
        {
            if (_at != text.Length)
            {
                throw new FormatException();
            }
        }

        private ReadOnlySpan<char> Next()
        {
            int end = text.IndexOf('\t', _at);
            if (end < 0)
            {
                throw new FormatException();
            }

            ReadOnlySpan<char> field = text.AsSpan(_at, end - _at);
            _at = end + 1;
            return field;
        }
    }
}
