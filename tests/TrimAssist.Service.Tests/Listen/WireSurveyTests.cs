using System.Buffers.Binary;
using System.Globalization;
using System.Net;
using CsCheck;
using TrimAssist.Desk.Profiles;
using TrimAssist.Desk.Profiles.Reading;
using TrimAssist.Protocols.Osc;
using TrimAssist.Service.Listen;
using TrimAssist.Service.Tests.Foreign;
using Xunit;

namespace TrimAssist.Service.Tests.Listen;

/// <summary>What is heard on a port: families of addresses, rates, ranges, guesses at packings, and a draft that can be checked.</summary>
public sealed class WireSurveyTests
{
    private static readonly IPEndPoint Desk = new(IPAddress.Parse("192.0.2.10"), 9000);

    public static TheoryData<string> Names => new(Dialects.All.Select(dialect => dialect.Id));

    [Theory]
    [InlineData("/lv/1 /lv/2 /lv/3", "/lv/{input}", 1, 3)]
    [InlineData("/lv/0 /lv/1", "/lv/{input-1}", 1, 2)]
    [InlineData("/lv/00 /lv/11", "/lv/{input-1:00}", 1, 12)]
    [InlineData("/lv/01 /lv/12", "/lv/{input:00}", 1, 12)]
    [InlineData("/b2/lv/1 /b2/lv/2", "/b2/lv/{input}", 1, 2)]
    [InlineData("/in/101/lv /in/102/lv", "/in/{input+100}/lv", 1, 2)]
    public void Addresses_that_differ_in_one_number_are_one_family(string addresses, string template, int first, int last)
    {
        var survey = new WireSurvey();
        foreach (var address in addresses.Split(' '))
            survey.Take(new OscMessage(address, OscArgument.Of(-20f)).Encode(), Desk, 0);
        var family = Assert.Single(AddressGroup.Of(survey.Tallies));
        Assert.Equal((template, first, last), (family.Template, family.Inputs[0], family.Inputs[^1]));
    }

    [Fact]
    public void Addresses_that_differ_in_two_numbers_are_left_as_they_are()
    {
        var survey = new WireSurvey();
        foreach (var address in new[] { "/1/in/1", "/1/in/2", "/2/in/1" })
            survey.Take(new OscMessage(address, OscArgument.Of(-20f)).Encode(), Desk, 0);
        Assert.Equal(["/1/in/1", "/1/in/2", "/2/in/1"], AddressGroup.Of(survey.Tallies).Select(family => family.Template));
    }

    [Fact]
    public void Rates_and_ranges_are_those_that_were_heard()
    {
        var survey = new WireSurvey();
        for (var frame = 0; frame <= 40; frame++)
            survey.Take(new OscMessage("/lv/1", OscArgument.Of(-10f - (frame % 5)), OscArgument.Of("on")).Encode(), Desk, frame * 0.05);
        var family = Assert.Single(AddressGroup.Of(survey.Tallies));
        Assert.Equal(20, family.PerSecond!.Value, 1e-6);
        Assert.Equal((-14, -10), family.RangeOf(0));
        var table = new StringWriter();
        SurveyTable.Write(survey, table);
        Assert.Contains("20.0/s  -14..-10, \"on\"", table.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(MeterElement.Real32, false, 0)]
    [InlineData(MeterElement.Real32, true, 4)]
    [InlineData(MeterElement.Whole16, true, 0)]
    [InlineData(MeterElement.Whole16, false, 6)]
    [InlineData(MeterElement.Whole32, true, 8)]
    [InlineData(MeterElement.Whole32, false, 0)]
    public void The_packing_of_a_blob_of_levels_is_guessed(MeterElement element, bool little, int skip)
    {
        var blobs = Enumerable.Range(0, 50).Select(frame => Blob(element, little, skip, frame)).ToList();
        var guess = BlobGuess.Of(blobs);
        Assert.Equal((element, little, skip, 12), guess is null ? default : (guess.Element, guess.IsLittle, guess.SkipBytes, guess.Count));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void A_draft_of_any_desk_can_be_checked_names_its_meters_and_can_change_nothing(string name)
    {
        var dialect = Dialects.All.Single(one => one.Id == name);
        var survey = new WireSurvey();
        var state = new DeskState();
        for (var time = 0.0; time < 6; time += dialect.FrameS)
        {
            foreach (var message in dialect.Meters(new Levels(state, time)))
                survey.Take(message.Encode(), Desk, time);
        }

        survey.Take(dialect.Tell(1, 30).Encode(), Desk, 6);
        var reading = ProfileReader.Read(ProfileDraft.Write(survey, 9001), "draft.toml");
        Assert.Empty(reading.Errors);
        var known = ProfileReader.Read($"""
            id = "known"
            inputs = {DeskState.Inputs}
            [connection]
            desk = "192.0.2.10:9000"
            {dialect.Profile}
            """, "known.toml").Profile!;
        var (drafted, meant) = (reading.Profile!.Meters[0], known.Meters[0]);
        Assert.Equal((DeskState.Inputs, meant.Packing, meant.Argument, Math.Round(meant.Traits.FrameS, 3)), (reading.Profile.Inputs, drafted.Packing, drafted.Argument, Math.Round(drafted.Traits.FrameS, 3)));
        Assert.Equal(meant.Address!.Text.Replace("socket", "input", StringComparison.Ordinal), drafted.Address!.Text);
        Assert.Empty(reading.Profile.Controls);
    }

    [Fact]
    public void Whatever_comes_the_draft_can_be_checked() => Gen.Select(Gen.String[Gen.Char[' ', '~'], 0, 30], Gen.Byte.Array[0, 40], Gen.Double[-1000, 1000]).List[1, 20].Sample(packets =>
    {
        var survey = new WireSurvey();
        var time = 0.0;
        foreach (var (address, bytes, number) in packets)
        {
            var message = new OscMessage("/" + address, OscArgument.Of((float)number), OscArgument.OfBlob(bytes), OscArgument.Of(address));
            for (var repeat = 0; repeat < 4; repeat++)
                survey.Take(message.Encode(), Desk, time += 0.01);
            survey.Take(bytes, Desk, time);
        }

        SurveyTable.Write(survey, TextWriter.Null);
        Assert.Empty(ProfileReader.Read(ProfileDraft.Write(survey, 9001), "draft.toml").Errors);
    });

    [Fact]
    public void However_many_addresses_come_the_account_is_bounded()
    {
        var survey = new WireSurvey();
        for (var number = 0; number < WireSurvey.MostAddresses + 500; number++)
            survey.Take(new OscMessage(string.Create(CultureInfo.InvariantCulture, $"/x/{number}"), OscArgument.Of(1)).Encode(), Desk, number);
        Assert.Equal((WireSurvey.MostAddresses, 500), (survey.Tallies.Count(), survey.TooMany));
    }

    private static byte[] Blob(MeterElement element, bool little, int skip, int frame)
    {
        const int Count = 12;
        var size = element == MeterElement.Whole16 ? 2 : 4;
        var bytes = new byte[skip + (Count * size)];
        if (skip >= 4)
            BinaryPrimitives.WriteInt32BigEndian(bytes, Count);
        for (var i = 0; i < Count; i++)
        {
            // Levels that swell and fade, as music does.
            var level = -45 + (25 * Math.Sin((frame * 0.15) + i)) + (frame * 7 % 3);
            var at = bytes.AsSpan(skip + (i * size));
            switch (element)
            {
                case MeterElement.Real32 when little:
                    BinaryPrimitives.WriteSingleLittleEndian(at, (float)level);
                    break;
                case MeterElement.Real32:
                    BinaryPrimitives.WriteSingleBigEndian(at, (float)level);
                    break;
                case MeterElement.Whole16 when little:
                    BinaryPrimitives.WriteInt16LittleEndian(at, (short)(level * 100));
                    break;
                case MeterElement.Whole16:
                    BinaryPrimitives.WriteInt16BigEndian(at, (short)(level * 100));
                    break;
                case MeterElement.Whole32 when little:
                    BinaryPrimitives.WriteInt32LittleEndian(at, (int)(level * 1000));
                    break;
                default:
                    BinaryPrimitives.WriteInt32BigEndian(at, (int)(level * 1000));
                    break;
            }
        }

        return bytes;
    }
}
