using System.Security.Cryptography.X509Certificates;
using MQTTnet;
using MQTTnet.Protocol;
using Polly;
using TrimAssist.Service.Events;

namespace TrimAssist.Service.Outbound.Mqtt;

/// <summary>
/// Publishes events to a broker, at least once, in order. It subscribes to nothing, so nothing can be confirmed on this way. A
/// broker that is away is tried again with growing waits; what stands is told anew when it is back.
/// </summary>
internal sealed partial class MqttOutlet : IEventOutlet
{
    private static readonly TimeSpan KeepAlive = TimeSpan.FromSeconds(15);

    private readonly MqttOptions _options;
    private readonly TimeProvider _time;
    private readonly ILogger<MqttOutlet> _log;
    private readonly string _broker;
    private readonly OutboundQueue _queue = new();
    private readonly Dictionary<string, string> _standing = new(StringComparer.Ordinal);
    private readonly ResiliencePipeline<bool> _reconnecting;
    private long _delivered;
    private string? _trouble;
    private Task<ServerEvent>? _owed;

    public MqttOutlet(MqttOptions options, TimeProvider time, ILogger<MqttOutlet> log)
    {
        (_options, _broker, _time, _log) = (options, options.ToString(), time, log);
        _reconnecting = OutboundPace.Retrying<bool>(time, int.MaxValue, outcome => outcome.Exception is null ? !outcome.Result : outcome.Exception is not OperationCanceledException);
    }

    public string Name => "mqtt";

    public long Dropped => _queue.Dropped;

    public long Delivered => Interlocked.Read(ref _delivered);

    public void Offer(ServerEvent item) => _queue.Offer(item);

    public async Task RunAsync(CancellationToken stopping)
    {
        while (!stopping.IsCancellationRequested)
        {
            using var client = new MqttClientFactory().CreateMqttClient();
            await _reconnecting.ExecuteAsync(async cancel => await TryConnectAsync(client, cancel), stopping);
            LogConnected(_broker);
            _trouble = null;
            try
            {
                await TellWhileConnectedAsync(client, stopping);
                Complain("the connection ended");
            }
            catch (OperationCanceledException) when (stopping.IsCancellationRequested)
            {
                await LeaveAsync(client);
            }
            catch (Exception gone)
            {
                // A broker that speaks nonsense is as gone as one that fell: neither is a reason to end.
                Complain(gone.Message);
                // One that takes the connection and ends it again at once is not asked without a pause.
                await Task.Delay(OutboundPace.First, _time, stopping);
            }
        }
    }

    // Waits for the end of the connection as much as for the next event: a broker that falls while nothing happens has
    // forgotten what it kept all the same.
    private async Task TellWhileConnectedAsync(IMqttClient client, CancellationToken stopping)
    {
        var ended = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        client.DisconnectedAsync += _ =>
        {
            if (!client.IsConnected)
                ended.TrySetResult();
            return Task.CompletedTask;
        };
        while (client.IsConnected)
        {
            _owed ??= _queue.NextAsync(stopping).AsTask();
            if (await Task.WhenAny(_owed, ended.Task) != _owed)
                return;
            await TellAsync(client, await _owed, stopping);
            _owed = null;
        }
    }

    private async Task<bool> TryConnectAsync(IMqttClient client, CancellationToken cancel)
    {
        try
        {
            var answer = await ConnectAsync(client, cancel);
            if (answer == MqttClientConnectResultCode.Success)
                return true;
            Complain($"it answers {answer}");
        }
        catch (Exception away) when (!cancel.IsCancellationRequested)
        {
            Complain(away.Message);
        }

        return false;
    }

    // The same trouble is told once, however often it is met.
    private void Complain(string why)
    {
        if (!string.Equals(_trouble, why, StringComparison.Ordinal))
            LogGone(_broker, why);
        _trouble = why;
    }

    private async Task<MqttClientConnectResultCode> ConnectAsync(IMqttClient client, CancellationToken cancel)
    {
        if (client.IsConnected)
            await client.DisconnectAsync(new MqttClientDisconnectOptionsBuilder().Build(), cancel);
        var builder = new MqttClientOptionsBuilder()
            .WithTcpServer(_options.Host, _options.Port)
            .WithTimeout(OutboundPace.OneTry)
            .WithKeepAlivePeriod(KeepAlive)
            .WithCleanSession()
            .WithWillTopic(MqttPlace.Status(_options.Topic))
            .WithWillPayload("offline")
            .WithWillQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce)
            .WithWillRetain();
        if (_options.User is { } user)
            builder.WithCredentials(user, _options.Password ?? "");
        if (_options.Tls)
        {
            builder.WithTlsOptions(tls =>
            {
                tls.UseTls();
                if (_options.Authorities.Count > 0)
                    tls.WithTrustChain(_options.Authorities).WithRevocationMode(X509RevocationMode.NoCheck);
            });
        }

        var answer = await client.ConnectAsync(builder.Build(), cancel);
        if (answer.ResultCode != MqttClientConnectResultCode.Success)
            return answer.ResultCode;
        await PublishAsync(client, new(MqttPlace.Status(_options.Topic), true), "online", cancel);
        foreach (var (topic, json) in _standing)
            await PublishAsync(client, new(topic, true), json, cancel);
        return answer.ResultCode;
    }

    private async Task TellAsync(IMqttClient client, ServerEvent item, CancellationToken stopping)
    {
        var place = MqttPlace.Of(_options.Topic, item);
        // One word a desk and kind: as many as there are desks.
        if (place.Retained)
            _standing[place.Topic] = item.Json;
        using var patience = new CancellationTokenSource(OutboundPace.OneTry, _time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(stopping, patience.Token);
        await PublishAsync(client, place, item.Json, either.Token);
        Interlocked.Increment(ref _delivered);
    }

    private static Task<MqttClientPublishResult> PublishAsync(IMqttClient client, MqttPlace place, string text, CancellationToken cancel) => client.PublishAsync(
        new MqttApplicationMessageBuilder().WithTopic(place.Topic).WithPayload(text).WithRetainFlag(place.Retained).WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce).Build(),
        cancel);

    // A service that goes in good order says so itself; the will speaks only for one that fell.
    private async Task LeaveAsync(IMqttClient client)
    {
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(1), _time);
        try
        {
            await PublishAsync(client, new(MqttPlace.Status(_options.Topic), true), "offline", patience.Token);
            await client.DisconnectAsync(new MqttClientDisconnectOptionsBuilder().Build(), patience.Token);
        }
        catch (Exception gone)
        {
            // The will has spoken.
            Complain(gone.Message);
        }
    }

    [LoggerMessage(EventId = 2311, Level = LogLevel.Information, Message = "Events go to the broker {Broker}")]
    private partial void LogConnected(string broker);

    [LoggerMessage(EventId = 2312, Level = LogLevel.Warning, Message = "The broker {Broker} is gone ({Why}); events wait, and the oldest give way")]
    private partial void LogGone(string broker, string why);
}
