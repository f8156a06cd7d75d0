-- One row per haul whose catch can be compared: kilos by group, and value.
-- A haul with no catch row has no catch record; a kilo that was not recorded makes a sum unknown.
with

comparable as (
    select
        hauls.row,
        hauls.vessel,
        hauls.trip,
        hauls.haul,
        haul_seasons.season
    from hauls
    inner join haul_seasons on hauls.row = haul_seasons.row
    left join hauls_missing_catch as lacking
        on hauls.vessel = lacking.vessel
        and hauls.trip = lacking.trip
        and hauls.haul = lacking.haul
    where coalesce(hauls.valid, true) and lacking.haul is null
),

priced_seasons as (
    select distinct season from prices
),

final as (
    select
        comparable.row,
        case
            when max(case when bottom_living and kg is null then 1 else 0 end) = 0
                then sum(case when bottom_living then kg else 0 end)
        end as bottom_living_kg,
        case
            when max(case when not bottom_living and kg is null then 1 else 0 end) = 0
                then sum(case when not bottom_living then kg else 0 end)
        end as other_kg,
        case
            when max(case when priced_seasons.season is not null then 1 else 0 end) = 1
                and max(case when priced_catches.value is null then 1 else 0 end) = 0
                then sum(priced_catches.value)
        end as value
    from comparable
    inner join priced_catches
        on comparable.vessel = priced_catches.vessel
        and comparable.trip = priced_catches.trip
        and comparable.haul = priced_catches.haul
    left join priced_seasons on comparable.season = priced_seasons.season
    group by comparable.row
)

select * from final
