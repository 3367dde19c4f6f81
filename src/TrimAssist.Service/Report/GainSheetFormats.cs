using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using CsvHelper;
using CsvHelper.Configuration;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.Logging.Abstractions;
using TrimAssist.Service.Contract;

namespace TrimAssist.Service.Report;

/// <summary>A gain sheet as it leaves the program.</summary>
internal static class GainSheetFormats
{
    private static readonly string[] Titles =
    [
        "input", "name", "source", "role", "player", "trim_db", "pad_on", "target_dbfs", "check_peak_dbfs", "show_peak_dbfs", "clipped",
        "loudest_passage_dbfs", "noise_floor_dbfs", "allowance_db", "allowance_basis", "alarms", "note",
    ];

    private static readonly JsonSerializerOptions Json = MakeJson();

    /// <summary>One JSON document.</summary>
    public static string ToJson(GainSheet sheet) => JsonSerializer.Serialize(sheet, Json);

    /// <summary>A table, one row an input.</summary>
    public static string ToCsv(GainSheet sheet)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        using var csv = new CsvWriter(text, new CsvConfiguration(CultureInfo.InvariantCulture)
        {
            // A name that a spreadsheet would take for a formula is written so that it is not.
            InjectionOptions = InjectionOptions.Escape,
            InjectionCharacters = ['=', '@', '\t', '\r'],
            NewLine = "\n",
        });
        foreach (var title in Titles)
            csv.WriteField(title);
        foreach (var row in sheet.Inputs)
        {
            csv.NextRecord();
            csv.WriteField(row.Input);
            csv.WriteField(row.Name);
            csv.WriteField(row.Source);
            csv.WriteField(row.Role.ToString().ToLowerInvariant());
            csv.WriteField(row.Player);
            csv.WriteField(row.TrimDb);
            csv.WriteField(row.PadOn switch { true => "true", false => "false", null => null });
            csv.WriteField(row.TargetDbfs);
            csv.WriteField(row.CheckPeakDbfs);
            csv.WriteField(row.ShowPeakDbfs);
            csv.WriteField(row.Clipped ? "true" : "false");
            csv.WriteField(row.LoudestPassageDbfs);
            csv.WriteField(row.NoiseFloorDbfs);
            csv.WriteField(row.AllowanceDb);
            csv.WriteField(row.AllowanceBasis);
            csv.WriteField(string.Join("; ", row.Alarms));
            csv.WriteField(row.Note);
        }

        csv.NextRecord();
        return text.ToString();
    }

    /// <summary>One page to print, pictures inside.</summary>
    public static async Task<string> ToHtmlAsync(GainSheet sheet)
    {
        await using var services = new ServiceCollection().BuildServiceProvider();
        await using var renderer = new HtmlRenderer(services, NullLoggerFactory.Instance);
        return await renderer.Dispatcher.InvokeAsync(async () =>
        {
            var page = await renderer.RenderComponentAsync<GainSheetPage>(
                ParameterView.FromDictionary(new Dictionary<string, object?>(StringComparer.Ordinal) { [nameof(GainSheetPage.Sheet)] = sheet }));
            return page.ToHtmlString();
        });
    }

    private static JsonSerializerOptions MakeJson()
    {
        var options = new JsonSerializerOptions { WriteIndented = true };
        ApiJson.Configure(options);
        options.TypeInfoResolverChain.Insert(0, GainSheetJson.Default);
        options.MakeReadOnly();
        return options;
    }
}

[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(GainSheet))]
internal sealed partial class GainSheetJson : JsonSerializerContext;
