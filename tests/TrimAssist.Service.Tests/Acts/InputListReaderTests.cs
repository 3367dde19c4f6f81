using System.Text;
using TrimAssist.Core.Acts;
using TrimAssist.Core.Units;
using TrimAssist.Service.Acts;
using Xunit;

namespace TrimAssist.Service.Tests.Acts;

/// <summary>Input lists as people write them: what is understood, and what is said about the rest.</summary>
public sealed class InputListReaderTests
{
    [Fact]
    public void A_plain_list_is_read_whole()
    {
        var reading = Read("""
            # act: Harbour Kite Parade
            # start: 18:30
            input,name,source,role,player,pair,target_dbfs,allowance_db,note
            1,Kick,kick,performer,Ida Fenn,,-10,3.5,no port
            15,Tracks L,tracks,playback,,16,,,
            16,Tracks R,tracks,playback,,15,,,
            """);

        Assert.Equal(("Harbour Kite Parade", new TimeOnly(18, 30)), (reading.Act!.Name, reading.Act.StartsAt));
        Assert.Equal(new ActInput(1, "Kick", "kick", SourceRole.Performer, "Ida Fenn", null, new Dbfs(-10), 3.5, "no port"), reading.Act.Inputs[0]);
        Assert.Equal([(15, 16), (16, 15)], reading.Act.Inputs.Skip(1).Select(line => (line.Input, line.Pair!.Value)));
        Assert.All(reading.Problems, problem => Assert.Contains("tracks", problem.Text, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("Ch #;Label;Instrument;Musician;Target (dBFS);Allowance dB", "3;Vox;voice;Bo;-12,5;6,5")]
    [InlineData("INPUT\tNAME\tSource\twho\ttarget\tallowance", "3\tVox\tvoice\tBo\t−12.5\t6.5")]
    [InlineData(" in , title , kind , player , \"target_dbfs\" , allowance ", "3,Vox,voice,Bo,\"-12,5\",\"6,5\"")]
    public void Headers_delimiters_and_decimal_commas_are_taken_as_people_write_them(string header, string row)
    {
        var reading = Read(header + "\r\n\r\n" + row + "\r\n");

        Assert.Empty(reading.Problems);
        Assert.Equal(new ActInput(3, "Vox", "voice", SourceRole.Performer, "Bo", null, new Dbfs(-12.5), 6.5, null), Assert.Single(reading.Act!.Inputs));
        Assert.Equal("list", reading.Act.Name);
    }

    [Theory]
    [InlineData("1,Kick,kick,performer\n1,Snare,snare,performer", 3, "input", "stands in the list already")]
    [InlineData("1,Kick,kick,performer\n99,Snare,snare,performer", 3, "input", "no input of this desk")]
    [InlineData("1,Kick,kick,performer\nx,Snare,snare,performer", 3, "input", "no input of this desk")]
    [InlineData("1,Kick,kick,performer\n,Snare,snare,performer", 3, "input", "is empty")]
    [InlineData("1,Kick,kick,performer\n2,Snare,snare,drummer", 3, "role", "none of performer, playback")]
    [InlineData("1,Kick,kick,performer\n2,Snare,snare,3", 3, "role", "none of performer, playback")]
    public void A_row_that_cannot_be_used_is_named_with_row_and_column_and_the_rest_goes_on(string rows, int row, string column, string text)
    {
        var reading = Read("input,name,source,role\n" + rows);

        Assert.Equal([1], reading.Act!.Inputs.Select(line => line.Input));
        var problem = Assert.Single(reading.Problems);
        Assert.Equal((row, column), (problem.Row, problem.Column));
        Assert.Contains(text, problem.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("input,target_dbfs\n1,loud", "target_dbfs", "no number of dB")]
    [InlineData("input,target_dbfs\n1,3", "target_dbfs", "no number of dB")]
    [InlineData("input,allowance_db\n1,NaN", "allowance_db", "no number of dB")]
    [InlineData("input,source\n1,nose flute organ grinder", null, null)]
    [InlineData("input,source\n1,theremin", "source", "learns by itself")]
    [InlineData("input,colour\n1,red", "colour", "is no column")]
    [InlineData("input,pair\n1,2\n2,3\n3,", "pair", "do not name each other")]
    [InlineData("input,pair\n1,1", "pair", "do not name each other")]
    public void What_is_wrong_with_a_cell_is_named_and_the_row_is_kept(string list, string? column, string? text)
    {
        var reading = Read(list);

        Assert.Contains(reading.Act!.Inputs, line => line.Input == 1);
        if (column is not null)
            Assert.Contains(reading.Problems, problem => problem.Column == column && problem.Text.ToString().Contains(text!, StringComparison.Ordinal));
        else
            Assert.Empty(reading.Problems);
    }

    [Theory]
    [InlineData("")]
    [InlineData("\n\n# nothing\n")]
    [InlineData("input,name\n")]
    [InlineData("input,name\nx,y\n")]
    [InlineData("name,source\nKick,kick\n")]
    [InlineData("\0\u0001\u0002")]
    public void A_list_without_a_usable_row_makes_no_act_and_says_why_where_there_is_something_to_say(string list)
    {
        var reading = Read(list);

        Assert.Null(reading.Act);
        Assert.True(reading.Problems.Count > 0 || list.StartsWith("input,name\n", StringComparison.Ordinal));
    }

    [Fact]
    public void Other_encodings_are_read_and_what_is_guessed_is_said()
    {
        const string List = "input,name,player\n1,Flügel,Zoë\n";

        foreach (var encoding in new Encoding[] { new UTF8Encoding(true), Encoding.Unicode, Encoding.BigEndianUnicode })
        {
            var reading = InputListReader.Read(new ReadOnlyMemory<byte>([.. encoding.GetPreamble(), .. encoding.GetBytes(List)]), "list", 24);
            Assert.Empty(reading.Problems);
            Assert.Equal(("Flügel", "Zoë"), (reading.Act!.Inputs[0].Name, reading.Act.Inputs[0].Player));
        }

        var latin = InputListReader.Read(Encoding.Latin1.GetBytes(List), "list", 24);
        Assert.Contains("not UTF-8", Assert.Single(latin.Problems).Text, StringComparison.Ordinal);
        Assert.Equal("Flügel", latin.Act!.Inputs[0].Name);
    }

    [Fact]
    public void A_quotation_mark_out_of_place_is_named_and_the_rest_goes_on()
    {
        var reading = Read("input,name\n1,Kick \"out\" mic\n2,Snare\n");

        Assert.Equal([1, 2], reading.Act!.Inputs.Select(line => line.Input));
        Assert.Equal("Snare", reading.Act.Inputs[1].Name);
        Assert.Contains(reading.Problems, problem => problem.Row == 2 && problem.Text.ToString().Contains("quotation", StringComparison.Ordinal));
    }

    private static ListReading Read(string text) => InputListReader.Read(Encoding.UTF8.GetBytes(text), "list", 24);
}
